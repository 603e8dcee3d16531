"""What a calendar file holds, and what it leaves out."""

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from pmtrack.actions.calendar import QuarterJobs
from pmtrack.rules.revision import CalendarEntry, Revised
from pmtrack.screens.lines import say, tell
from pmtrack.screens.terminal import bar

_BAR = 30


def show_calendar(
    out: Path,
    planned: QuarterJobs,
    entries: Sequence[CalendarEntry],
    revised: Revised | None,
) -> None:
    """Print the number of events and the load of each week; name what could not be planned."""
    events = sum(not entry.cancelled for entry in entries)
    tell(f"{out}: {events} events{_told(revised)}")
    minutes: Counter[str] = Counter()
    jobs: Counter[str] = Counter()
    for job in planned.jobs:
        week = f"{job.day:%G-W%V}"
        jobs[week] += 1
        minutes[week] += (job.task.minutes or 0) if job.task.crew is None else 0
    most = max(minutes.values(), default=0) or 1
    for week in sorted(jobs):
        hours = minutes[week] / 60
        load = bar(minutes[week] / most, _BAR)
        tell(f"  {week}  {jobs[week]:4} jobs  {hours:5.1f} h in-house  {load}")
    if planned.daily:
        say(f"Left out as daily: {', '.join(planned.daily)}")
    if planned.undated:
        say(f"Left out, for no due date is known: {', '.join(planned.undated)}")
    if planned.paused:
        say(f"Left out, for the machine is out of service: {', '.join(planned.paused)}")


def _told(revised: Revised | None) -> str:
    """What changed since the last file of the quarter."""
    if revised is None:
        return ""
    if revised == Revised(0, 0, 0):
        return "; nothing moved since the last file"
    return (
        f"; since the last file {revised.added} added, {revised.moved} moved, "
        f"{revised.cancelled} cancelled"
    )
