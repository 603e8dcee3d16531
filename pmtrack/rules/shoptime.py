"""Shop time: local dates and times against instants in UTC, and the instants of shifts."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from pmtrack.errors import Refused
from pmtrack.rules.shop import Shift

ONE_DAY = timedelta(days=1)
LONGEST_SHIFT = ONE_DAY


def to_instant(local: datetime, zone: ZoneInfo) -> datetime:
    """The UTC instant of a local time; the first one where it comes twice (RFC 5545, 3.3.5).

    Raises Refused for a time that the clock skips, naming the next one that exists.
    """
    instant = local.replace(tzinfo=zone, fold=0).astimezone(UTC)
    shown = instant.astimezone(zone).replace(tzinfo=None)
    if shown != local:
        raise Refused(
            f"{local:%Y-%m-%dT%H:%M} does not exist in {zone.key}: the clock was put forward; "
            f"write {shown:%Y-%m-%dT%H:%M}"
        )
    return instant


def boundary(day: date, at: time, zone: ZoneInfo) -> datetime:
    """The UTC instant of a scheduled time; a skipped one as in RFC 5545, 3.3.5."""
    return datetime.combine(day, at, zone).astimezone(UTC)


def local_date(instant: datetime, zone: ZoneInfo) -> date:
    """The shop's date at an instant."""
    return instant.astimezone(zone).date()


def shift_span(shift: Shift, day: date, zone: ZoneInfo) -> tuple[datetime, datetime]:
    """The instants at which the shift that starts on `day` begins and ends."""
    last = day if shift.end > shift.start else day + ONE_DAY
    return boundary(day, shift.start, zone), boundary(last, shift.end, zone)


def end_of_day(day: date, shifts: tuple[Shift, ...], zone: ZoneInfo) -> datetime:
    """The end of a date: its midnight, or the end of a night shift that starts on it."""
    midnight = boundary(day + ONE_DAY, time(0), zone)
    ends = (shift_span(s, day, zone)[1] for s in shifts if day.weekday() in s.weekdays)
    return max([midnight, *ends])
