"""What holds of a shift that is logged, by a command or by a row of a file."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from pmtrack.actions.references import References
from pmtrack.errors import MayBeConfirmed, Refused
from pmtrack.rules.shoptime import shift_span
from pmtrack.store.codec import to_text
from pmtrack.store.tool_history import scrapped_since


@dataclass(frozen=True)
class Slot:
    """A shift of a date: its instants, how long it takes by the clock, and texts for the store."""

    shift: str
    day: date
    start: datetime
    end: datetime
    elapsed: timedelta
    day_text: str
    end_text: str


def slot_of(references: References, shift: str, day: date) -> Slot:
    """The shift of that name on a date; Refused if the shop has none."""
    named = references.shift_named(shift)
    start, end = shift_span(named, day, references.bare.zone)
    return Slot(
        shift=named.name,
        day=day,
        start=start,
        end=end,
        elapsed=end - start,
        day_text=day.isoformat(),
        end_text=to_text(end),
    )


def begun(slot: Slot, now: datetime) -> Slot:
    """The shift, Refused where it is still to begin."""
    if slot.start > now:
        raise Refused(f"the {slot.shift} shift of {slot.day} has not begun yet")
    return slot


def check_tools(references: References, program: str | None, slot: Slot) -> None:
    """MayBeConfirmed where a scrapped tool would have hit the parts of a program."""
    stored = references.view.stored
    hits = next((p.hits for p in stored.programs if p.code == program), {})
    tools = [t.code for t in stored.tools if (t.die_of or t.code) in hits and not t.counts]
    for tool, day in scrapped_since(references.store, tools, slot.end).items() if tools else ():
        raise MayBeConfirmed(
            f"{tool} of {program} is scrapped since {day}; record its replacement first: "
            f"replace {tool} --at T; or add --confirm if it ran without it"
        )
