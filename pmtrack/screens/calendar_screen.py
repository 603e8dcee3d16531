"""What a calendar file holds, and what it leaves out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from textwrap import fill

from pmtrack.actions.calendar import LeftOut
from pmtrack.rules.load import WeekLoad
from pmtrack.rules.revision import CalendarEntry, Revised
from pmtrack.rules.text import counted
from pmtrack.screens.lines import say, tell
from pmtrack.screens.load_lines import load_lines
from pmtrack.screens.terminal import WIDTH


@dataclass(frozen=True)
class Written:
    """What was written: the quarter's own entries, as to-dos or events, and what they revise."""

    entries: Sequence[CalendarEntry]
    revised: Revised | None
    todos: bool


def show_calendar(out: Path, written: Written, left: LeftOut, loads: Sequence[WeekLoad]) -> None:
    """Print the number of events and the load of each week; name what could not be planned."""
    tell(f"{out}: {_counted(written)}{_told(written.revised)}")
    for line in load_lines(loads):
        tell(f"  {line}")
    _say_left_out("as daily", left.daily)
    _say_left_out("while no due date is known", left.undated)
    _say_left_out("while the machine is out of service", left.paused)


def _say_left_out(why: str, tasks: Sequence[str]) -> None:
    if tasks:
        told = f"Left out {why}: {', '.join(tasks)}"
        say(fill(told, WIDTH, subsequent_indent="  ", break_on_hyphens=False))


def say_left_to_others(left: Mapping[str, int]) -> None:
    """Say how many jobs the calendars of other quarters tell."""
    for quarter in sorted(left):
        say(f"{counted(left[quarter], 'job')} left to the calendar of {quarter}")


def _counted(written: Written) -> str:
    """How many events or to-dos, and how many of them are done."""
    standing = [entry for entry in written.entries if not entry.cancelled]
    done = sum(entry.job.done is not None for entry in standing)
    told = counted(len(standing), "to-do" if written.todos else "event")
    return f"{told}, {done} of them done" if done else told


def _told(revised: Revised | None) -> str:
    """What changed since the last file of the quarter."""
    if revised is None:
        return ""
    if revised == Revised(0, 0, 0):
        return "; nothing moved since the last file"
    return (
        f"; since the last file {revised.added} added, {revised.moved} moved, "
        f"{revised.cancelled} cancelled{f', {revised.done} done' if revised.done else ''}"
    )
