"""A fault of a CSV file: on which line, what is wrong and what to write instead."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Self

_ENTRY = re.compile(r"\bentry (\d+)")
_MARK = re.compile(r"--(wrapped|exchanged) [^\s,;]+|--(confirm)\b")
_OPTION = re.compile(r"--(from|to|mm|why|cause)\b")


@dataclass(frozen=True, order=True)
class Fault:
    """One complaint about the row that starts on `line`."""

    line: int
    text: str

    def render(self, name: str) -> str:
        """The complaint on one printable line: file, line, fault and mend."""
        told = f"{name}:{self.line}: {self.text}"
        return "".join(c if c.isprintable() else "?" for c in told)

    def in_terms_of_the_file(self, line_of: Callable[[int], int | None]) -> Self:
        """The same, where a command's sentence names options and entries: columns and lines.

        `line_of` tells the line from which an entry was made, None for others.
        """
        text = _MARK.sub(lambda m: f"yes under {m[1] or 'confirmed'}", self.text)
        text = _OPTION.sub(r"\1", text)
        return type(self)(self.line, _ENTRY.sub(lambda m: _line_of(m, line_of), text))


def _line_of(match: re.Match[str], line_of: Callable[[int], int | None]) -> str:
    line = line_of(int(match[1]))
    return match[0] if line is None else f"line {line}"
