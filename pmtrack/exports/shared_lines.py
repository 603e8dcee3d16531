"""A calendar whose entries share values: the line of each is written and folded once."""

from typing import Any

from icalendar import Calendar
from icalendar.parser import Contentline, Parameters

OCTETS = 74  # of a line before it is folded, as the library counts; RFC 5545 3.1 (2009) allows 75


class SharedLine(Contentline):
    """A content line that is folded once, however often it stands in the file."""

    __slots__ = ("_folded",)
    _folded: bytes

    def to_ical(self) -> bytes:
        """The line, folded where the library would and encoded."""
        try:
            return self._folded
        except AttributeError:
            self._folded = folded(self.encode())
            return self._folded


def folded(line: bytes) -> bytes:
    """A line of UTF-8 on as many lines as it needs (RFC 5545 3.1, 2009).

    It is folded where the library folds it, which looks at each character by itself and takes
    most of the time of a file: never inside a character, nor after the first of an escaped pair.
    """
    parts, start = [], 0
    while len(line) - start > OCTETS:
        end = start + OCTETS
        while line[end] & 0xC0 == 0x80:  # inside a character
            end -= 1
        if line[end - 1] in b"\\^":
            end -= 1
        parts.append(line[start:end])
        start = end
    return b"\r\n ".join([*parts, line[start:]])


class SharingCalendar(Calendar):
    """A calendar that makes the line of a value once, for all of its entries that hold it."""

    def __init__(self) -> None:
        super().__init__()
        self._lines: dict[tuple[str, bytes | int], SharedLine] = {}

    def content_line(self, name: str, value: Any, sorted: bool = True) -> SharedLine:
        """The line of a property; values are told apart by what they are, not by what they say."""
        key = name, value if isinstance(value, bytes) else id(value)
        line = self._lines.get(key)
        if line is None:
            parameters = getattr(value, "params", None) or Parameters()
            line = SharedLine.from_parts(name, parameters, value, sorted=sorted)
            self._lines[key] = line
        return line
