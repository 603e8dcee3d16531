"""What the lives of tools tell: the life curve of each family, and the interval to sharpen at."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from pmtrack.actions.references import References
from pmtrack.actions.tooling import ToolRecords
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.quantity import shorten
from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_families import Family, families
from pmtrack.rules.tool_lives import ToolLife, lives_of
from pmtrack.statistics import weibull_limits
from pmtrack.statistics.age_replacement import Costs
from pmtrack.statistics.estimate import Estimate, TooFew
from pmtrack.statistics.interval_advice import Advice, Aim, advise, aim
from pmtrack.statistics.kaplan_meier import Step, product_limit
from pmtrack.statistics.lives import Life
from pmtrack.statistics.weibull_fit import LifeCurve, life_curve

_NAMED = 8  # families that a refusal names


@dataclass(frozen=True)
class ToolAdvice:
    """The interval advised for a tool, in its unit, and what is aimed at, in shares of it now.

    Both are null where sharpening as planned gains nothing.
    """

    tool: Tool
    aim: Aim | None
    advice: Advice | None


class Study:
    """What some lives tell of a family's tools.

    Tools of one kind have their intervals by size; so a life is taken as a share of its tool's
    interval, and all amounts are such shares. Limits hold with 90 % confidence.
    """

    def __init__(self, tools: Sequence[Tool], lives: Sequence[ToolLife]) -> None:
        self.tools = tools
        self.lives = lives
        self.shares = [Life(float(life.share), life.failed) for life in lives]

    @property
    def failures(self) -> int:
        """How many of the lives failed."""
        return sum(life.failed for life in self.lives)

    @property
    def longest(self) -> float:
        """The longest life seen, failed or not; 0 without any."""
        return max((life.amount for life in self.shares), default=0.0)

    @cached_property
    def fit(self) -> LifeCurve | TooFew:
        """The life curve, or why there is none."""
        return life_curve(self.shares)

    @property
    def curve(self) -> LifeCurve | None:
        """The life curve, or None."""
        return self.fit if isinstance(self.fit, LifeCurve) else None

    @property
    def too_few(self) -> TooFew | None:
        """Why there is no life curve, or None."""
        return self.fit if isinstance(self.fit, TooFew) else None

    @property
    def wears_out(self) -> bool:
        """Whether the old fail more often than the new, as far as the lives tell."""
        return self.curve is not None and self.curve.law.shape > 1

    @cached_property
    def shape(self) -> Estimate | None:
        """The shape of the curve."""
        return weibull_limits.shape(self.curve) if self.curve else None

    @cached_property
    def scale(self) -> Estimate | None:
        """The life that 63 % do not outlast."""
        return weibull_limits.scale(self.curve) if self.curve else None

    @cached_property
    def b10(self) -> Estimate | None:
        """The life by which one in ten has failed."""
        return weibull_limits.b_life(self.curve) if self.curve else None

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """The share of lives that outlast each amount, straight from the lives."""
        return product_limit(self.shares)

    @cached_property
    def advice(self) -> list[ToolAdvice]:
        """The advice for each tool; none without a life curve."""
        if self.curve is None:
            return []
        every = {costs_of(tool) for tool in self.tools}
        aims = {costs: aim(self.curve, costs) for costs in every}
        return [self._advice(tool, aims[costs_of(tool)]) for tool in self.tools]

    def _advice(self, tool: Tool, aimed: Aim | None) -> ToolAdvice:
        interval = float(tool.sharpen_every)
        if aimed is None:
            return ToolAdvice(tool, None, None)
        found = advise(interval, scaled(aimed.age, interval), self.longest * interval)
        return ToolAdvice(tool, aimed, found)


def costs_of(tool: Tool) -> Costs | None:
    """What a failure costs for each unit that a planned sharpening costs; None if not told.

    Only their ratio tells the cheapest interval, so tools with the same one share an aim.
    """
    if not (tool.regrind_cost and tool.failure_cost):
        return None
    return Costs(1.0, float(tool.failure_cost / tool.regrind_cost))


def scaled(value: Estimate, factor: float) -> Estimate:
    """An estimate in another unit."""
    low, high = (None if x is None else x * factor for x in (value.low, value.high))
    return Estimate(value.value * factor, low, high)


@dataclass(frozen=True)
class FamilyLife:
    """A family, what all its lives tell, and what those in each material tell by themselves.

    Of the materials those alone with enough failures, and none if there is only one.
    """

    family: Family
    whole: Study
    by_material: dict[str, Study]


def family_lives(
    view: View, machine: str | None = None, family: str | None = None
) -> list[FamilyLife]:
    """The families of the shop's tools or of one machine's; or one, by its name or a tool's code.

    Raises Refused where there is no such machine or family.
    """
    if machine is not None:
        References(view).machine(machine)
    found = _families(view, machine)
    chosen = found if family is None else [_chosen(found, family)]
    return [_studied(one) for one in chosen]


def _families(view: View, machine: str | None) -> list[Family]:
    """With the lives of tools retired since; each tool is read once."""
    records = ToolRecords(view)
    shop, past = (
        [tool for tool in source.tools if machine in (None, tool.machine)]
        for source in (view.shop, view.stored.past)
    )
    lives = [
        life
        for record in records.bare(*shop, *past)
        for life in lives_of(records.since(record, date.min), records.factors)
    ]
    return families(shop, lives)


def _chosen(found: Sequence[Family], name: str) -> Family:
    for family in found:
        if name == family.name or name in [tool.code for tool in family.tools]:
            return family
    known = [f"'{shorten(family.name)}'" for family in found[:_NAMED]] or ["none"]
    rest = len(found) - len(known)
    more = f", and {rest} more: 'pmtrack life' lists them all" if rest > 0 else ""
    raise Refused(f"no family '{shorten(name)}'; there are {', '.join(known)}{more}")


def _studied(family: Family) -> FamilyLife:
    materials = family.materials
    apart = {code: Study(family.tools, lives) for code, lives in materials.items()}
    enough = {code: study for code, study in apart.items() if study.curve}
    several = len(materials) > 1
    return FamilyLife(family, Study(family.tools, family.lives), enough if several else {})
