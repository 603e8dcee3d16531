"""Whether an object on a server still says what it should: compared by meaning, not by bytes.

A server may fold lines anew, reorder them, and add what it needs. So both sides are parsed, and
every property of every component counts, also one that somebody added (a repetition, a place, an
alarm), but not:

- what servers and programs write for their own books: DTSTAMP, CREATED, LAST-MODIFIED, ORGANIZER,
  names that begin with X-, an alarm's UID and ACKNOWLEDGED (somebody closed the reminder);
- what says the same as nothing: CLASS:PUBLIC, PRIORITY:0, PERCENT-COMPLETE:0;
- blanks at the end of a text, which some servers trim;
- the head of the calendar and its time zones, since entries are whole days;
- a SEQUENCE above ours, which a program may have raised. One below ours is an older revision.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from icalendar import Calendar, Component

BOOKS = {"DTSTAMP", "CREATED", "LAST-MODIFIED", "ORGANIZER", "SEQUENCE"}
ALARM_BOOKS = {"UID", "ACKNOWLEDGED"}  # RFC 9074 4 and 6 (2021)
SAME_AS_NOTHING = {("CLASS", "PUBLIC"), ("PRIORITY", 0), ("PERCENT-COMPLETE", 0)}


@dataclass(frozen=True)
class Content:
    """What an object says: its UID, its revision number, and the meaning of its components."""

    uid: str
    sequence: int
    meaning: tuple[str, ...]

    def still_says(self, wanted: "Content") -> bool:
        """Whether a reader sees what is wanted, of this revision or a later one."""
        return self.meaning == wanted.meaning and self.sequence >= wanted.sequence


def content(data: str | bytes) -> Content | None:
    """What an object says, None where it cannot be read or holds no UID."""
    try:
        parts = [
            part for part in Calendar.from_ical(data).subcomponents if part.name != "VTIMEZONE"
        ]
        uid, sequence = str(parts[0]["UID"]), int(parts[0].get("SEQUENCE", 0))
        return Content(uid, sequence, tuple(sorted(_meaning(part) for part in parts)))
    except (ValueError, KeyError, IndexError, TypeError, AttributeError):
        return None


def _meaning(component: Component) -> str:
    """A component as one text that is the same for the same meaning."""
    said = sorted(repr(pair) for pair in _properties(component))
    inner = sorted(_meaning(part) for part in component.subcomponents)
    return repr((component.name, said, inner))


def _properties(component: Component) -> Iterator[tuple[str, object]]:
    """The properties that count, each with its value; lists taken apart."""
    books = BOOKS | ALARM_BOOKS if component.name == "VALARM" else BOOKS
    for name, values in component.items():
        if name in books or name.startswith("X-"):
            continue
        for value in values if isinstance(values, list) else [values]:
            for plain in _plain(name, value):
                if (name, plain) not in SAME_AS_NOTHING:
                    yield name, plain


def _plain(name: str, value: Any) -> Iterator[object]:
    """The value without its wrapping: categories one by one, a trigger with its anchor."""
    if isinstance(value, str):  # also what could not be read as what it should be
        yield value.rstrip()
    elif name == "CATEGORIES":
        yield from (str(category) for category in value.cats)
    elif name == "TRIGGER":
        yield value.dt, str(value.params.get("RELATED", "START"))
    elif hasattr(value, "dt"):
        yield value.dt
    else:
        yield int(value) if isinstance(value, int) else value.to_ical()
