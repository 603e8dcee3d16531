"""The operator's deeds: a shift logged, a stop begun and ended."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from pmtrack.actions.recorder import NewShift, Recorder
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.facts import Moment, Stop
from pmtrack.rules.shop import Shift
from pmtrack.rules.shoptime import local_date, shift_span
from pmtrack.rules.text import needed
from pmtrack.rules.workdays import shifts_on
from pmtrack.store import history
from pmtrack.store.codec import to_text

LOOK_BACK_DAYS = 31  # in which a shift to log is looked for


def shift_to_log(view: View, now: datetime) -> tuple[Shift, date] | None:
    """The last scheduled shift that is half over, with its date; None if none was within a month.

    At the change of shifts it is the one that ends, not the one that begins.
    """
    return next(_half_over(view, now), None)


def shift_date(view: View, name: str, now: datetime) -> date:
    """The last date on which the shift of that name is half over, as scheduled; else today."""
    dates = (day for shift, day in _half_over(view, now) if shift.name == name)
    return next(dates, local_date(now, view.bare.zone))


def _half_over(view: View, now: datetime) -> Iterator[tuple[Shift, date]]:
    """The scheduled shifts of which half is over at least, each with its date, latest first."""
    today = local_date(now, view.bare.zone)
    for back in range(LOOK_BACK_DAYS):
        day = today - timedelta(days=back)
        shifts = shifts_on(view.bare, view.workdays, day)
        for shift in sorted(shifts, key=lambda s: s.start, reverse=True):
            begin, end = shift_span(shift, day, view.bare.zone)
            if now - begin >= end - now:
                yield shift, day


def log_shift(recorder: Recorder, log: NewShift, note: str = "") -> int:
    """Add a shift's log, checked; it must say something."""
    told = (log.counts, log.dials, log.parts is not None, log.scrap is not None, log.program)
    if not any(told):
        raise Refused("nothing to log: give hits, hours, parts, a count or a dial reading")
    number = recorder.shift(log, note)
    recorder.finish()
    return number


@dataclass(frozen=True)
class NewStop:
    """A machine that went down: when, and until when if it runs again."""

    machine: str
    cause: str
    start: Moment
    end: Moment | None = None
    planned: bool = False


def stop(recorder: Recorder, new: NewStop, note: str = "") -> int:
    """Add a stop; without an end it runs until the next restart, which may be entered already."""
    machine = recorder.machine(new.machine, (new.end or new.start).day)
    cause = needed(new.cause, "what stopped it", "--cause 'hydraulic leak'")
    start = _instant("start", recorder.happened(new.start))
    end = _instant("end", recorder.happened(new.end)) if new.end else None
    if end is not None and end <= start:
        when = "when" if end == start else "before"
        raise Refused(f"the stop ends {when} it begins; check --from and --to")
    number = recorder.entry("stop", new.start, note)
    recorder.store.add(
        "stop",
        entry=number,
        machine=machine.code,
        started=to_text(start),
        ended=to_text(end) if end else None,
        planned=int(new.planned),
        cause=cause,
    )
    return number


@dataclass(frozen=True)
class Stopped:
    """A stop among the others of its machine.

    It ended by itself or by a restart, or runs, then beside others; `twice` is the entry of another
    that tells the same: from then on, for that cause.
    """

    ended: datetime | None
    beside: list[Stop]
    twice: int | None


def stopped(recorder: Recorder, machine: str, entry: int) -> Stopped:
    """How the stop of an entry stands among those of its machine."""
    stops = history.stops(recorder.store, machine, recorder.view.day)
    own = next(stop for stop in stops if stop.entry == entry)
    others = [stop for stop in stops if stop.entry != entry]
    same = (stop.entry for stop in others if _said(stop) == _said(own))
    running = [stop for stop in others if stop.span.end is None]
    ended = own.span.end
    return Stopped(ended, [] if ended else running, next(same, None))


def _said(stop: Stop) -> tuple[datetime, str]:
    return stop.span.start, stop.cause.casefold()


def restart(recorder: Recorder, code: str, moment: Moment) -> tuple[int, list[Stop]]:
    """Say that a machine ran again: all stops that ran then end. Tells which.

    A later restart of theirs gives way, so that one entered too late can be put right.
    """
    machine = recorder.machine(code, moment.day)
    at = _instant("restart", recorder.happened(moment))
    before = history.stops(recorder.store, machine.code, recorder.view.day)
    number = recorder.entry("restart", moment)
    recorder.store.add("restart", entry=number, machine=machine.code, at=to_text(at))
    after = history.stops(recorder.store, machine.code, recorder.view.day)
    ended = [now for then, now in zip(before, after, strict=True) if then.span != now.span]
    if not ended:
        raise Refused(
            f"{machine.code} has no running stop then; "
            f"log one that is over with 'pmtrack stop {machine.code} --from ... --to ...'"
        )
    return number, ended


def _instant(what: str, moment: Moment) -> datetime:
    if moment.at is None:
        raise Refused(f"give the {what} with its time, like {moment.day}T14:05")
    return moment.at
