"""A reader and checker of our own for calendar files: RFC 5545, 5546 (both 2009), 7986 (2016)."""

import re
from collections import Counter
from dataclasses import dataclass, field
from typing import NamedTuple


class Line(NamedTuple):
    """A content line as written: RFC 5545 3.1."""

    name: str
    params: str
    value: str


@dataclass
class Block:
    """A component with its own lines and the components inside it."""

    name: str
    lines: list[Line] = field(default_factory=list)
    blocks: list["Block"] = field(default_factory=list)

    def written(self, name: str) -> str:
        """The value of the one line of that name, as written."""
        (value,) = [line.value for line in self.lines if line.name == name]
        return value

    def text(self, name: str) -> str:
        """The value of the one line of that name, read as TEXT (RFC 5545 3.3.11)."""
        return unescape(self.written(name))

    def times(self, name: str) -> int:
        """How often the property occurs."""
        return [line.name for line in self.lines].count(name)


def unescape(value: str) -> str:
    """TEXT as meant: RFC 5545 3.3.11, one pass from left to right."""
    return re.sub(r"\\(.)", lambda hit: "\n" if hit[1] in "nN" else hit[1], value)


def physical_lines(data: bytes) -> list[bytes]:
    """The lines of the file: each ends in CRLF, RFC 5545 3.1."""
    assert data.endswith(b"\r\n")
    lines = data[:-2].split(b"\r\n")
    assert not any(b"\r" in line or b"\n" in line for line in lines)
    return lines


def read(data: bytes) -> Block:
    """The calendar in the file, by the grammar of RFC 5545 3.1 and 3.4."""
    text = data.decode("utf-8").replace("\r\n ", "").replace("\r\n\t", "")
    top = Block("file")
    stack = [top]
    for written in text[:-2].split("\r\n"):
        parts = re.fullmatch(r'([A-Z0-9-]+)((?:;[A-Z0-9-]+=[^":;,]+)*):(.*)', written, re.DOTALL)
        assert parts, written
        line = Line(parts[1], parts[2], parts[3])
        if line.name == "BEGIN":
            stack[-1].blocks.append(Block(line.value))
            stack.append(stack[-1].blocks[-1])
        elif line.name == "END":
            assert stack.pop().name == line.value
        else:
            stack[-1].lines.append(line)
    assert stack == [top]
    (calendar,) = top.blocks
    assert not top.lines
    return calendar


# What may occur how often in what we write, and the form of its value.
TEXT_FORM = r"(?:[^\\;,\x00-\x08\x0a-\x1f\x7f]|\\[\\;,nN])*"  # RFC 5545 3.3.11
DATE_FORM = r"\d{8}"  # RFC 5545 3.3.4
FORMS = {
    "VERSION": r"2\.0",  # RFC 5545 3.7.4
    "NAME": TEXT_FORM,  # RFC 7986 5.1
    "UID": r"[0-9a-z-]{1,254}",  # RFC 7986 5.3: no host, under 255 octets
    "REFRESH-INTERVAL": r"P\d+[WD]",  # RFC 7986 5.7: positive
    "DTSTAMP": r"\d{8}T\d{6}Z",  # RFC 5545 3.8.7.2: UTC
    "DTSTART": DATE_FORM,
    "DTEND": DATE_FORM,
    "DUE": DATE_FORM,
    "COMPLETED": r"\d{8}T\d{6}Z",  # RFC 5545 3.8.2.1: UTC
    "PERCENT-COMPLETE": r"\d\d?|100",  # RFC 5545 3.8.1.8
    "SEQUENCE": r"\d+",  # RFC 5545 3.8.7.4
    "TRANSP": "OPAQUE|TRANSPARENT",  # RFC 5545 3.8.2.7
    "CATEGORIES": rf"{TEXT_FORM}(?:,{TEXT_FORM})*",  # RFC 5545 3.8.1.2
    "ACTION": "DISPLAY",  # RFC 5545 3.8.6.1
    "TRIGGER": r"-?P(?:\d+W|\d+D|T\d+H)",  # RFC 5545 3.3.6: no years, no months
}
STATUS = {  # RFC 5545 3.8.1.11
    "VEVENT": "TENTATIVE|CONFIRMED|CANCELLED",
    "VTODO": "NEEDS-ACTION|COMPLETED|IN-PROCESS|CANCELLED",
}
PARAMS = {  # RFC 5545 3.2.20, 3.2.14; RFC 7986 5.7
    "DTSTART": ";VALUE=DATE",
    "DTEND": ";VALUE=DATE",
    "DUE": ";VALUE=DATE",
    "REFRESH-INTERVAL": ";VALUE=DURATION",
}
REQUIRED = {
    "VCALENDAR": {"PRODID", "VERSION"},  # RFC 5545 3.6
    "VEVENT": {"UID", "DTSTAMP", "DTSTART"},  # RFC 5545 3.6.1, a file without METHOD
    "VTODO": {"UID", "DTSTAMP"},  # RFC 5545 3.6.2
    "VALARM": {"ACTION", "TRIGGER", "DESCRIPTION"},  # RFC 5545 3.6.6, DISPLAY
}


def assert_valid(data: bytes) -> Block:
    """Fails where the file breaks a rule of the RFCs; returns the calendar in it."""
    for physical in physical_lines(data):
        assert len(physical) <= 75  # RFC 5545 3.1
        physical.decode("utf-8")  # RFC 5545 3.1: no character is split by the folding
    calendar = read(data)
    assert calendar.name == "VCALENDAR"
    assert calendar.blocks  # RFC 5545 3.6: at least one component
    assert calendar.times("METHOD") == 0  # RFC 5546 3.2.1: METHOD would ask for an ORGANIZER
    assert_block(calendar)
    for block in calendar.blocks:
        assert_block(block)
        assert_anchored(block)
    uids = Counter(block.written("UID") for block in calendar.blocks)
    assert set(uids.values()) == {1}  # RFC 5545 3.8.4.7: globally unique
    return calendar


def assert_block(block: Block) -> None:
    """Fails where a component lacks a property, has one twice or with a wrong value."""
    names = {line.name for line in block.lines}
    assert names >= REQUIRED[block.name]
    for line in block.lines:
        assert block.times(line.name) == 1
        assert line.params in (PARAMS.get(line.name, ""), ";RELATED=END")
        form = STATUS.get(block.name, "") if line.name == "STATUS" else FORMS.get(line.name)
        assert re.fullmatch(form or TEXT_FORM, line.value), line


def assert_anchored(block: Block) -> None:
    """Fails where an end is not later than its start or a reminder hangs in the air."""
    if block.name == "VEVENT":
        assert block.written("DTEND") > block.written("DTSTART")  # RFC 5545 3.8.2.2
    else:
        assert block.times("DTSTART") == 0  # RFC 5545 3.8.2.3: else DUE would have to be later
    for alarm in block.blocks:
        assert_block(alarm)
        (trigger,) = [line for line in alarm.lines if line.name == "TRIGGER"]
        anchor = {"": "DTSTART", ";RELATED=END": "DUE"}[trigger.params]
        assert block.times(anchor) == 1  # RFC 5545 3.8.6.3
    if block.written("STATUS") == "CANCELLED":
        assert not block.blocks  # RFC 5546 3.2.5: no VALARM
