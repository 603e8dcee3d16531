"""What bears on one task on a day, and how one of its intervals stands then."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from zoneinfo import ZoneInfo

from pmtrack.rules.facts import Base, Deferral
from pmtrack.rules.rate import Standing
from pmtrack.rules.shop import Interval, Rule
from pmtrack.rules.workdays import Workdays


@dataclass(frozen=True)
class UsageBase:
    """Usage of a meter at the base; `reached_on` is the day on which usage came to base + N.

    `off_dial` says that the base was read off a dial, but no dial since tells the meter's level.
    """

    usage: Fraction
    assumed: bool = False
    reached_on: date | None = None
    off_dial: bool = False


@dataclass(frozen=True)
class MeterView:
    """A meter as one task sees it: how it stands and where the task's interval began."""

    standing: Standing
    at_base: UsageBase


@dataclass(frozen=True)
class RuleDue:
    """One interval or schedule of a task on one day. Grace and lead are in `unit`."""

    rule: Rule
    state: str
    due_on: date | None
    work_by: date | None
    grace: Fraction
    lead: Fraction
    unit: str = "day"
    used: Fraction | None = None
    due_range: tuple[date, date] | None = None
    likely_range: tuple[date, date] | None = None  # wider: for a rate that does not stay as it is
    estimated: bool = False
    usage: Fraction | None = None  # entered or estimated, on the day
    target: Fraction | None = None  # usage at which the interval is gone
    remark: str = ""


@dataclass(frozen=True)
class Situation:
    """What bears on one task as of a day, besides the shop file."""

    day: date
    first_applied: date
    base: Base | None = None
    meters: Mapping[Interval, MeterView] | None = None  # for each usage interval
    deferral: Deferral | None = None
    in_service: date | None = None
    out_of_service: bool = False
    retired_on: date | None = None


@dataclass(frozen=True)
class Calendars:
    """The shop's working days, those of the machine's meters, and the shop's time zone."""

    shop: Workdays
    machine: Workdays
    zone: ZoneInfo
