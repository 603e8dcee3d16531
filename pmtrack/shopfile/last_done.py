"""What `last_done` tells must have happened: its date is today's at the latest."""

from collections.abc import Callable, Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from pmtrack.rules.shoptime import local_date
from pmtrack.shopfile.calendar_values import read_day
from pmtrack.shopfile.catalog import Entry, entries
from pmtrack.shopfile.fault import Finding
from pmtrack.shopfile.task_checks import zone_of

Clock = Callable[[ZoneInfo], datetime]  # the present instant, for a shop in that time zone


def last_done_faults(data: Entry, clock: Clock) -> Iterator[Finding]:
    """Every `last_done` that lies after today by the shop's own date."""
    zone = zone_of(data)
    today = local_date(clock(zone), zone)
    for loc, task in entries(data, "tasks"):
        told = task.get("last_done")
        try:
            on = read_day(told.get("on")) if isinstance(told, dict) else None
        except ValueError:  # the model has told it
            continue
        if on and on > today:
            yield (
                (*loc, "last_done", "on"),
                f"{on} lies after today, {today}; write the day it was last done, "
                "or take last_done out and write starts",
            )
