"""What was crossed out, in lines: the entry itself, how its task stands now, what stays behind."""

from zoneinfo import ZoneInfo

from pmtrack.actions.crossing_out import CrossedOut
from pmtrack.rules.explain import reason
from pmtrack.screens.entries_screen import what_of, when_of
from pmtrack.screens.lines import say, tell


def show_crossed_out(crossed: CrossedOut, zone: ZoneInfo) -> None:
    """Tell what is crossed out; so that a mistyped number is seen at once."""
    said, number = crossed.said, crossed.said["entry"]
    what = "; ".join(filter(None, [said["kind"], when_of(said, zone), what_of(said, zone)]))
    tell(f"entry {crossed.entry}: entry {number} is crossed out: {what}")
    if crossed.now:
        tell(f"  {crossed.now.task.name} is now {crossed.now.state}: {reason(crossed.now)}")
    for job, entry in crossed.left.items():
        goes = f"pmtrack void {entry} --why 'not found'"
        say(f"{job}, found then, stays on the list; if it goes too: {goes}")
