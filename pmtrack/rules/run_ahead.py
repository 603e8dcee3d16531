"""A run of a program, looked at before it starts: which tools last it, and what to do first."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction
from math import ceil, floor

from pmtrack.rules.plausible import most_in
from pmtrack.rules.shop import PerTime
from pmtrack.rules.usage import ZERO
from pmtrack.rules.wear import GRACE, ToolWear, nearness

BEFORE = ("replace", "sharpen", "takeout", "fit")  # in the order of doing


@dataclass(frozen=True)
class ToolInRun:
    """A tool as it stands, and what one part of the run asks of it; `wear_per_part` above 0."""

    wear: ToolWear
    machine: str  # on which the run is made
    parts: int
    hits_per_part: Fraction
    wear_per_part: Fraction
    last_station: str | None = None  # of that machine, in which it was fitted last

    @property
    def code(self) -> str:
        """The tool's code."""
        return self.wear.tool.code

    @property
    def hits(self) -> Fraction:
        """Hits of the whole run."""
        return self.parts * self.hits_per_part

    @property
    def wear_hits(self) -> Fraction:
        """Wear hits of the whole run."""
        return self.parts * self.wear_per_part

    @property
    def station(self) -> str | None:
        """The station of the run's machine that it is fitted in, or None."""
        place = self.wear.fitted
        return place[1] if place and place[0] == self.machine else None

    @property
    def elsewhere(self) -> tuple[str, str] | None:
        """Another machine, and the station there, that it has to come out of."""
        place = self.wear.fitted
        return place if place and place[0] != self.machine else None

    @property
    def scrapped(self) -> bool:
        """Whether it has to be replaced before anything else."""
        return self.wear.state == "scrapped"

    @property
    def left(self) -> Fraction:
        """Wear hits until its interval is used up; not below 0."""
        if self.scrapped:
            return ZERO
        return max(self.wear.tool.sharpen_every - self.wear.wear_hits, ZERO)

    @property
    def lasts_parts(self) -> int:
        """Parts that it makes within its interval, as it stands."""
        return floor(self.left / self.wear_per_part)

    @property
    def fresh_parts(self) -> int:
        """Parts that it makes within its interval when sharpened or new."""
        return floor(self.wear.tool.sharpen_every / self.wear_per_part)

    @property
    def runs_out_at(self) -> int | None:
        """The part in which it passes its interval; None when it lasts the run."""
        return self.lasts_parts + 1 if self.lasts_parts < self.parts else None

    @property
    def past_grace_at(self) -> int | None:
        """The part in which it passes its grace too; None when that is not in the run."""
        within = self.wear.tool.sharpen_every * GRACE - self.wear.wear_hits
        part = max(floor(within / self.wear_per_part) + 1, 1)
        return part if part <= self.parts and not self.scrapped else None

    @property
    def after(self) -> str:
        """How it stands after the run when nothing is done before."""
        if self.scrapped:
            return "scrapped"
        return nearness(self.wear.tool, self.wear.wear_hits + self.wear_hits)

    @property
    def _renewed(self) -> bool:
        """Whether it starts the run sharpened or new: where that saves a stop in the run."""
        if self.scrapped:
            return True
        if not self.fresh_parts:
            return self.wear.wear_hits > 0
        return self._stops(self.fresh_parts) < self._stops(self.lasts_parts)

    def _stops(self, first: int) -> int:
        """How often the run is stopped to sharpen when the first life makes so many parts."""
        return ceil(Fraction(max(self.parts - first, 0), self.fresh_parts))

    @property
    def replace_first(self) -> bool:
        """Whether a new one has to start the run: scrapped, or nothing is left to grind."""
        return self.scrapped or (self._renewed and not self.can_be_sharpened)

    @property
    def can_be_sharpened(self) -> bool:
        """Whether there is anything to grind, as far as is known."""
        return self.wear.tool.is_ground and self.wear.sharpenings_left != 0

    @property
    def sharpen_first(self) -> bool:
        """Whether it is sharpened before the run."""
        return self._renewed and not self.replace_first

    @property
    def stop_after(self) -> int | None:
        """The part after which the run is stopped to sharpen it, once the first deeds are done.

        0 when no part is within its interval; None when there is no stop.
        """
        first = self.fresh_parts if self._renewed else self.lasts_parts
        return first if first < self.parts else None

    @property
    def stops(self) -> int | None:
        """How often the run is stopped to sharpen it; None when no part is within its interval."""
        if not self.fresh_parts:
            return None
        return self._stops(self.fresh_parts if self._renewed else self.lasts_parts)

    @property
    def short_of(self) -> bool:
        """Whether the run takes more sharpenings than are left."""
        left, stops = self.wear.sharpenings_left, self.stops
        if left is None or stops is None or self.replace_first:
            return False
        return self.sharpen_first + stops > left

    @property
    def is_last_life(self) -> bool:
        """Whether it lasts, but cannot be sharpened again after."""
        return self.wear.sharpenings_left == 0 and self.runs_out_at is None and not self.scrapped


@dataclass(frozen=True)
class Deed:
    """What is to be done with a tool before the run: one of BEFORE."""

    kind: str
    tool: ToolInRun


@dataclass(frozen=True)
class RunAhead:
    """A program, how many parts of it, in which material (None: not said), where, with what."""

    program: str
    parts: int
    material: str | None
    machine: str
    tools: tuple[ToolInRun, ...]
    fastest: PerTime | None = None  # of the machine's hits

    @property
    def hits(self) -> Fraction:
        """Hits of the press; those of a die are its punch's."""
        return sum((tool.hits for tool in self.tools if not tool.wear.tool.die_of), ZERO)

    @property
    def press_seconds(self) -> Fraction | None:
        """The least time for the hits, without moves and loading; None without a fastest rate.

        60 hits at 120 a minute are 30 seconds (common practice, no source).
        """
        if self.fastest is None or self.fastest.per == "shift" or not self.fastest.amount:
            return None
        return self.hits / most_in(self.fastest, timedelta(seconds=1))

    @property
    def before(self) -> list[Deed]:
        """What to do before the run, in the order of doing."""
        deeds = [Deed(kind, tool) for tool in self.tools for kind in self._asked(tool)]
        return sorted(deeds, key=lambda deed: (BEFORE.index(deed.kind), *_urgency(deed)))

    def _asked(self, tool: ToolInRun) -> Iterable[str]:
        if tool.replace_first:
            yield "replace"
        if tool.sharpen_first:
            yield "sharpen"
        if tool.station is None and not tool.wear.tool.die_of:  # a die goes with its punch
            if tool.elsewhere:
                yield "takeout"
            yield "fit"

    @property
    def in_run(self) -> list[ToolInRun]:
        """Tools for which the run has to be stopped, the first first."""
        found = [tool for tool in self.tools if tool.stop_after is not None]
        return sorted(found, key=lambda tool: tool.stop_after or 0)

    @property
    def ready(self) -> bool:
        """Whether nothing is to be done, neither before the run nor in it."""
        return not self.before and not self.in_run


def _urgency(deed: Deed) -> tuple[int, int]:
    """For sharpening: past its grace the soonest, then out of its interval the soonest."""
    if deed.kind not in ("sharpen", "replace"):
        return 0, 0
    tool = deed.tool
    never = tool.parts + 1
    return tool.past_grace_at or never, tool.runs_out_at or never
