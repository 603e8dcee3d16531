"""The figures of a whole report by name, each in the period and in the one before it."""

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from pmtrack.actions.report import Figures
from pmtrack.screens.report_cells import or_dash, percent, places, points, signed

Value = Fraction | float | None


class Row(NamedTuple):
    """A figure in both periods; shares differ by points of a percent."""

    name: str
    now: Value
    before: Value
    is_share: bool = False
    decimals: int = 1

    @property
    def cells(self) -> list[str]:
        """Now, before, and the difference."""
        known = self.now is not None and self.before is not None
        grown = (self.now or 0) - (self.before or 0) if known else None
        if self.is_share:
            return [percent(self.now), percent(self.before), points(grown)]
        now, before = (or_dash(value, self.decimals) for value in (self.now, self.before))
        return [now, before, signed(grown, self.decimals)]


def total_rows(now: Figures, before: Figures) -> Sequence[Row]:
    """Every figure of all machines together, in the order in which people ask for them."""
    down, was = now.throughput.downtime, before.throughput.downtime
    made, had = now.throughput, before.throughput
    lost, did_lose = made.lost_unplanned, had.lost_unplanned
    whole = down.scheduled_hours, was.scheduled_hours
    return [
        Row("Hours scheduled", *whole, decimals=places(*whole)),
        Row("Hours out of service", down.out_of_service_hours, was.out_of_service_hours),
        Row("Hours in planned stops", down.planned_hours, was.planned_hours),
        Row("Hours down", down.unplanned_hours, was.unplanned_hours),
        Row("Availability", down.availability, was.availability, is_share=True),
        Row("Failures", down.unplanned_stops, was.unplanned_stops, decimals=0),
        Row("MTBF, hours", down.mtbf_hours, was.mtbf_hours, decimals=0),
        Row("MTTR, hours", down.mttr_hours, was.mttr_hours),
        Row("Hits", made.hits, had.hits, decimals=0),
        Row("Good parts", made.good_parts, had.good_parts, decimals=0),
        Row("Scrap", made.scrap_share, had.scrap_share, is_share=True),
        Row("Hits lost to breakdowns", lost.hits, did_lose.hits, decimals=0),
        Row("Parts lost to breakdowns", lost.parts, did_lose.parts, decimals=0),
        Row("Money lost to breakdowns", lost.money, did_lose.money, decimals=0),
        Row("PM hours", now.work.hours, before.work.hours),
        Row("PM cost", now.work.cost, before.work.cost, decimals=0),
        Row("Jobs on time", now.on_time.share, before.on_time.share, is_share=True),
        Row("Of these by law", now.demanded.share, before.demanded.share, is_share=True),
    ]
