"""The shop file as plain values (texts, true, false, null, lists, mappings) with their lines.

Nothing of YAML 1.1: numbers, dates and times of day stay text here, and so do `on`, `yes` and `no`.
"""

from dataclasses import dataclass, field
from typing import Any

import yaml

from pmtrack.shopfile.building import Builder, Lines, Stopped
from pmtrack.shopfile.decoding import decode, line_after
from pmtrack.shopfile.fault import Fault, Loc
from pmtrack.shopfile.syntax import syntax_fault

_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass
class Document:
    """What a file holds; `data` is None when it cannot be read as a mapping."""

    data: dict[str, Any] | None = None
    lines: Lines = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    broken: set[Loc] = field(default_factory=set)  # values replaced by null, with a fault

    def locate(self, loc: Loc) -> tuple[int, Loc]:
        """The line of a location, or that of what should hold it; no deeper than the file goes."""
        lines: Any = self.lines
        line = 1
        for depth, part in enumerate(loc):
            if part not in lines:
                return line, loc
            lines = lines[part]
            if isinstance(lines, int):
                return lines, loc[: depth + 1]
            line = lines[None]
        return line, loc

    def line(self, loc: Loc) -> int:
        """The line of a location."""
        return self.locate(loc)[0]


def read_document(raw: bytes) -> Document:
    """Parse the bytes of a file; whatever they are, the outcome is values or faults."""
    text = decode(raw)
    if isinstance(text, Fault):
        return Document(faults=[text])
    builder = Builder()
    try:
        for event in yaml.parse(text, Loader=_Loader):
            builder.take(event)
    except Stopped as stop:
        return Document(faults=[*builder.faults, stop.fault])
    # where PyYAML has no C parser, an escape beyond Unicode is a ValueError
    except (yaml.YAMLError, ValueError, OverflowError) as error:
        return Document(faults=[*builder.faults, syntax_fault(error, line_after(text.rstrip()))])
    data, lines = builder.result() or (None, {})
    return Document(data, lines, builder.faults, builder.broken)
