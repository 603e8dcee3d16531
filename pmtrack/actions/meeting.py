"""What a manager brings to a meeting: a report with its weeks and months, trends and advice."""

from dataclasses import dataclass, replace
from datetime import date, datetime

from pmtrack.actions.advice import advice_of
from pmtrack.actions.failing import watches_of
from pmtrack.actions.pm_pays import PmPays, pays_of
from pmtrack.actions.report import Asked, Figures, Report, report
from pmtrack.actions.three_things import things_of
from pmtrack.actions.trend import MachineTrend, Trends
from pmtrack.actions.view import View
from pmtrack.rules.grouping import Grouping
from pmtrack.rules.worth import Thing, first_things

_MOST_WEEKS = 106  # two years; bars of more would be too thin
_DAYS_OF_WEEK = 7


@dataclass(frozen=True)
class Meeting:
    """The report beside the period before it, and all that its page tells besides.

    `spans` are its weeks, or months where there are too many; the trends, what PM pays and the
    things to change rest on all that is known up to `known_to`, not on the period alone.
    """

    shop: str
    made_on: date
    report: Report
    spans_by: Grouping
    spans: list[Figures]
    months: list[Figures]
    things: list[Thing]
    trends: Trends
    pays: PmPays
    known_to: date


def meeting(view: View, now: datetime, asked: Asked, made_on: date) -> Meeting:
    """What the page of a report tells, as known at `now` on the view's day."""
    found = report(view, now, replace(asked, before=True))
    long = (min(asked.last, view.day) - asked.first).days > _MOST_WEEKS * _DAYS_OF_WEEK
    spans_by = Grouping.MONTH if long else Grouping.WEEK
    months = _lines(view, now, asked, Grouping.MONTH)
    # A machine asked for may have left the shop since: then nothing about it is to change.
    watches = [w for w in watches_of(view, now) if asked.only in (None, w.machine.code)]
    advised = advice_of(one for one in watches if one.failures)
    return Meeting(
        shop=view.shop.name,
        made_on=made_on,
        report=found,
        spans_by=spans_by,
        spans=months if long else _lines(view, now, asked, Grouping.WEEK),
        months=months,
        things=first_things(things_of(view, watches, advised)),
        trends=Trends([MachineTrend(one) for one in watches]),
        pays=pays_of(watches),
        known_to=view.day,
    )


def _lines(view: View, now: datetime, asked: Asked, by: Grouping) -> list[Figures]:
    return report(view, now, replace(asked, by=by, before=False)).groups
