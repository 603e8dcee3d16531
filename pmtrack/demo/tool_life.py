"""The life of one tool from one sharpening to the next, and how it will end."""

from dataclasses import dataclass
from fractions import Fraction
from random import Random

from pmtrack.demo.seed import chance
from pmtrack.rules.shop import Tool

DRESSED = Fraction(1, 20)  # mm taken off a tool that is dressed, not ground
_BURR, _CHIPPED = 0.14, 0.05  # shares of lives that end before their time
_BROKEN = 0.3  # share of chipped tools that cannot be ground any more


@dataclass(frozen=True)
class Ending:
    """At which share of the interval a life ends, why, and whether the tool is lost."""

    used: float
    why: str = "planned"
    broken: bool = False


def draw_ending(draw: Random) -> Ending:
    """Most lives end by plan, some by a burr, a few by a chipped edge."""
    kind = draw.random()
    if kind < _CHIPPED:
        return Ending(draw.uniform(0.2, 0.9), "chipped", chance(draw, _BROKEN))
    if kind < _CHIPPED + _BURR:
        return Ending(draw.uniform(0.62, 0.93), "burr")
    return Ending(draw.uniform(0.94, 1.07))


@dataclass
class ToolLife:
    """One tool: mm left to grind, wear hits since it was last ground, how this life will end."""

    tool: Tool
    left: Fraction | None
    wear: Fraction = Fraction(0)
    ending: Ending = Ending(1.0)

    @property
    def used(self) -> float:
        """Share of the interval gone."""
        return float(self.wear / self.tool.sharpen_every)

    @property
    def to_grind(self) -> Fraction:
        """How many mm the end of this life takes off."""
        grind = self.tool.grind or DRESSED
        return {"planned": grind, "burr": grind + DRESSED, "chipped": grind * 2}[self.ending.why]

    @property
    def is_lost(self) -> bool:
        """Whether the tool must be replaced when this life ends."""
        return self.ending.broken or (self.left is not None and self.left < self.to_grind)
