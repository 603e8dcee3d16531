"""What a calendar file holds, and what it leaves out."""

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from pmtrack.actions.calendar import QuarterJobs
from pmtrack.rules.revision import CalendarEntry
from pmtrack.screens.terminal import bar, say

_BAR = 30


def show_calendar(out: Path, planned: QuarterJobs, entries: Sequence[CalendarEntry]) -> None:
    """Print the number of events and the load of each week; name what could not be planned."""
    cancelled = sum(entry.cancelled for entry in entries)
    told = f", {cancelled} cancelled" if cancelled else ""
    print(f"{out}: {len(entries) - cancelled} events{told}")
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
        print(f"  {week}  {jobs[week]:4} jobs  {hours:5.1f} h in-house  {load}")
    if planned.undated:
        say(f"Left out, for no due date is known: {', '.join(planned.undated)}")
    if planned.paused:
        say(f"Left out, for the machine is out of service: {', '.join(planned.paused)}")
