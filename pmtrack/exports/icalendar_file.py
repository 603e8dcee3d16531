"""Planned jobs as an iCalendar file (RFC 5545, 2009, and RFC 7986, 2016): all-day, UTF-8.

The file has no METHOD: it is published for anybody, asks nobody to answer and needs no ORGANIZER
(RFC 5546 3.2.1, 2009). Calendar programs then differ over STATUS:CANCELLED: some hide the entry,
some strike it out, some show it as before. So a cancelled entry also says it in words.
"""

import re
from collections.abc import Sequence
from datetime import UTC, timedelta
from functools import lru_cache
from itertools import accumulate
from typing import Any

from icalendar import Alarm, Calendar, Component, Event, Todo
from icalendar.prop import vCategory, vText

from pmtrack.errors import Refused
from pmtrack.exports.shared_lines import SharingCalendar
from pmtrack.rules.revision import CalendarEntry

PRODID = "-//pmtrack//EN"
REFRESH = timedelta(days=1)
MORNING = timedelta(hours=6)
SUMMARY_OCTETS = 255
DONE_TITLE = "Done: "
CANCELLED_TITLE = "Cancelled: "
CANCELLED_TEXT = "Cancelled: this job is no longer planned for this day.\n\n"

_ODD = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ud800-\udfff]")
_BREAKS = re.compile("\r\n|[\r\v\f\x85\u2028\u2029]")
_CONTROLS = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x9f\ufeff]")
_SURROGATES = re.compile("[\ud800-\udfff]")


class Text(vText):
    """A TEXT value; the library's own takes a written `\\N` (as in `C:\\NC`) for a line break."""

    def to_ical(self) -> bytes:
        """The value escaped as RFC 5545 3.3.11 (2009) asks."""
        escaped = self.replace("\\", r"\\").replace(";", r"\;").replace(",", r"\,")
        return escaped.replace("\n", r"\n").encode()


def calendar_file(
    name: str, calendar_uid: str, entries: Sequence[CalendarEntry], todos: bool = False
) -> bytes:
    """The calendar as a file: the same entries give the same bytes; `todos` writes VTODO.

    Raises Refused without entries, since a calendar needs one component (RFC 5545 3.6, 2009).
    """
    if not entries:
        raise Refused("no job to put into the calendar; plan a quarter that has jobs")
    calendar = _calendar()
    calendar.add("uid", _line(calendar_uid))
    calendar.add("name", _line(name))
    calendar.add("x-wr-calname", _line(name))  # what readers knew before RFC 7986
    calendar.add("refresh-interval", REFRESH, {"VALUE": "DURATION"})
    return _written(calendar, entries, todos)


def single_file(entry: CalendarEntry, todos: bool = False) -> bytes:
    """One entry as a calendar object of its own, as a collection holds it (RFC 4791 4.1, 2007)."""
    return _written(_calendar(), [entry], todos)


def _calendar() -> Calendar:
    """An empty calendar with what RFC 5545 3.6 (2009) asks of each."""
    calendar = SharingCalendar()
    calendar.add("version", Text("2.0"))
    calendar.add("prodid", Text(PRODID))
    return calendar


def _written(calendar: Calendar, entries: Sequence[CalendarEntry], todos: bool) -> bytes:
    """The calendar with its entries, as bytes."""
    for entry in entries:
        calendar.add_component(_todo(entry) if todos else _event(entry))
    written: bytes = calendar.to_ical()
    return written


def clean(text: str) -> str:
    """Text fit for iCalendar: every kind of line break as `\\n`, no control character but a tab.

    A byte order mark goes too, since readers drop it at will. Half a surrogate pair, which UTF-8
    cannot carry, becomes U+FFFD.
    """
    if not _ODD.search(text):
        return text
    return _SURROGATES.sub("\ufffd", _CONTROLS.sub("", _BREAKS.sub("\n", text)))


@lru_cache(maxsize=4096)
def _shared(name: str, value: object, **parameters: str) -> Any:
    """A property's value as the library types it, one for all entries that have the same."""
    holder = Component()
    holder.add(name, value, parameters)
    return holder[name]


def _event(entry: CalendarEntry) -> Event:
    """An all-day event that leaves the day free for other work; its end is the day after."""
    event, day = Event(), entry.job.shown_on
    event["DTSTART"] = _shared("dtstart", day)
    event["DTEND"] = _shared("dtend", day + timedelta(days=1))
    event["STATUS"] = _shared("status", Text("CANCELLED" if entry.cancelled else "CONFIRMED"))
    event["TRANSP"] = _shared("transp", Text("TRANSPARENT"))
    _describe(event, entry, {})
    return event


def _todo(entry: CalendarEntry) -> Todo:
    """A to-do due on the planned day; no DTSTART, since DUE would have to be later than it."""
    todo = Todo()
    todo["DUE"] = _shared("due", entry.job.day)
    if entry.job.done:
        todo["STATUS"] = _shared("status", Text("COMPLETED"))
        todo["COMPLETED"] = _shared("completed", entry.job.done.at.astimezone(UTC))
        todo["PERCENT-COMPLETE"] = _shared("percent-complete", 100)
    else:
        status = "CANCELLED" if entry.cancelled else "NEEDS-ACTION"
        todo["STATUS"] = _shared("status", Text(status))
    _describe(todo, entry, {"RELATED": "END"})  # DUE is its anchor (RFC 5545 3.8.6.3, 2009)
    return todo


def _describe(component: Component, entry: CalendarEntry, anchor: dict[str, str]) -> None:
    """Adds what events and to-dos have in common, and the reminder of a job still to be done."""
    job = entry.job
    title, text = _ahead(entry)
    summary = _within(_line(title + (_line(job.summary) or job.task)), SUMMARY_OCTETS)
    component["UID"] = _line(job.uid)
    component["DTSTAMP"] = _shared("dtstamp", entry.stamp)  # the library turns it into UTC
    component["SEQUENCE"] = _shared("sequence", entry.sequence)
    component["SUMMARY"] = summary
    component["DESCRIPTION"] = Text(clean(text + job.text))
    categories = _categories(job.categories)
    if categories.cats:
        component["CATEGORIES"] = categories
    if not (entry.cancelled or job.done):
        component.add_component(_alarm(summary, job.reminder_days, anchor))


def _ahead(entry: CalendarEntry) -> tuple[str, str]:
    """What goes ahead of the title and of the text of a job that is no longer to be done."""
    if entry.job.done:
        return DONE_TITLE, f"{entry.job.done.told}\n\n"
    return (CANCELLED_TITLE, CANCELLED_TEXT) if entry.cancelled else ("", "")


def _alarm(summary: Text, days: int, anchor: dict[str, str]) -> Alarm:
    """A reminder shown `days` ahead, or on the morning of the day itself."""
    alarm = Alarm()
    alarm["ACTION"] = _shared("action", Text("DISPLAY"))
    alarm["DESCRIPTION"] = summary
    alarm["TRIGGER"] = _shared("trigger", timedelta(days=-days) if days > 0 else MORNING, **anchor)
    return alarm


@lru_cache(maxsize=4096)
def _categories(names: tuple[str, ...]) -> vCategory:
    """The categories as one property; the library would turn its arguments into its own text."""
    categories = vCategory([])
    categories.cats = [line for name in names if (line := _line(name))]
    return categories


def _line(text: str) -> Text:
    """Clean text on one line, with single blanks."""
    return Text(" ".join(clean(text).split()))


def _within(text: Text, octets: int) -> Text:
    """Text cut between characters so that its written value has at most that many octets."""
    if len(text.to_ical()) <= octets:
        return text
    sizes = accumulate(len(Text(char).to_ical()) for char in text)
    fitting = sum(size <= octets - len("...") for size in sizes)
    return Text(text[:fitting].rstrip() + "...")
