"""Short makers for tests of tools' lives: a tool, what was done to it, hits counted for it.

Each life is a row of hits at noon, on days in a row from 1 June 2026, and what ended it at one.
"""

from collections.abc import Iterable
from datetime import timedelta
from fractions import Fraction

from pmtrack.rules.facts import Moment, ToolCount, ToolEvent
from pmtrack.rules.shop import Material, Tool
from pmtrack.rules.tool_lives import ToolLife, lives_of
from pmtrack.rules.wear_hits import Factors, ToolRecord
from tests.build import at, day

BEGUN = ToolEvent(0, "RD-10", Moment(day("06-01")), at("06-01T06:00"), "replace")
NO_FACTORS = Factors({}, {})
STAINLESS = Factors({}, {"stainless": Material("stainless", wear=Fraction(2))})


def tool(code: str = "RD-10", every: float = 60_000, **more: object) -> Tool:
    """A round punch."""
    fields: dict[str, object] = {"machine": "TP-1", "kind": "round punch"} | more
    return Tool(code=code, sharpen_every=Fraction(every), **fields)  # type: ignore[arg-type]


def life(hits: float, why: str | None, of: Tool | None = None) -> ToolLife:
    """A life that ended for that reason, or is running."""
    ended = ToolEvent(1, "RD-10", BEGUN.moment, BEGUN.at, "sharpen", why=why) if why else None
    return ToolLife(of or tool(), Fraction(hits), BEGUN, ended)


def lives(*told: tuple[float, str | None], of: Tool | None = None) -> list[ToolLife]:
    """Lives by their hits and ends."""
    return [life(hits, why, of) for hits, why in told]


def worked(of: Tool, told: Iterable[tuple[float, str]]) -> list[ToolLife]:
    """The lives found in a book in which these were entered, the first one begun by a new tool."""
    first = at("06-01T06:00")
    counts, events = [], [ToolEvent(1, of.code, Moment(first.date(), first), first, "replace")]
    for number, (hits, why) in enumerate(told):
        noon = at("06-01T12:00") + timedelta(days=number)
        counts.append(ToolCount(3 * number + 2, of.code, noon.date(), noon, Fraction(hits)))
        one = noon + timedelta(hours=1)
        events.append(
            ToolEvent(3 * number + 3, of.code, Moment(one.date(), one), one, "sharpen", why=why)
        )
    return lives_of(ToolRecord(of, tuple(counts), (), tuple(events)), NO_FACTORS)
