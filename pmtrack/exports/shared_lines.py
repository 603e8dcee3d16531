"""A calendar whose entries share values: the line of each is written and folded once."""

from typing import Any

from icalendar import Calendar
from icalendar.parser import Contentline, Parameters


class SharedLine(Contentline):
    """A content line that is folded once, however often it stands in the file."""

    __slots__ = ("_folded",)
    _folded: bytes

    def to_ical(self) -> bytes:
        """The line, folded and encoded by the library."""
        try:
            return self._folded
        except AttributeError:
            folded: bytes = super().to_ical()  # type: ignore[no-untyped-call]
            self._folded = folded
            return folded


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
