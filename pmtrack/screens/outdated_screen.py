"""That a saved plan does not know what the shop file says now, and what takes it in."""

from collections.abc import Iterable, Sequence
from textwrap import fill

from pmtrack.screens.lines import say
from pmtrack.screens.terminal import WIDTH


def say_outdated(quarters: Iterable[str]) -> None:
    """Say which quarters' plans were saved before the shop file was applied."""
    for quarter in quarters:
        say(f"plan {quarter} was saved before this: 'pmtrack plan {quarter} --save' takes it in")


def say_retired(quarter: str, tasks: Sequence[str]) -> None:
    """Say which tasks of a quarter's plan are left out, since they were retired."""
    _say("Left out as retired since the plan was saved", tasks, quarter)


def say_paused(quarter: str, tasks: Sequence[str]) -> None:
    """Say which tasks have jobs in a quarter's plan though their machine is out of service now."""
    _say("Still in the plan, though the machine is out of service", tasks, quarter)


def _say(what: str, tasks: Sequence[str], quarter: str) -> None:
    if tasks:
        told = f"{what}: {', '.join(tasks)}"
        say(fill(told, WIDTH, subsequent_indent="  ", break_on_hyphens=False))
        say(f"'pmtrack plan {quarter} --save' plans without them")
