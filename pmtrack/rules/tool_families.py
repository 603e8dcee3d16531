"""Tools of one kind, which are taken to wear alike in proportion to their intervals."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_lives import ToolLife

NAMELESS = "-"  # tools of which the file tells no kind


@dataclass(frozen=True)
class Family:
    """The tools of one kind and unit in the shop file, and lives of these and of retired ones."""

    name: str
    tools: tuple[Tool, ...]
    lives: tuple[ToolLife, ...] = ()

    @property
    def unit(self) -> str:
        """What their wear is counted in."""
        return self.tools[0].unit

    @property
    def interval(self) -> Fraction | None:
        """Their interval, where it is the same for all whose lives are known; else None."""
        every = {tool.sharpen_every for tool in (*self.tools, *(x.tool for x in self.lives))}
        return every.pop() if len(every) == 1 else None

    @property
    def failures(self) -> int:
        """How many of the lives ended by a burr or a chipped edge."""
        return sum(life.failed for life in self.lives)

    @property
    def materials(self) -> dict[str, tuple[ToolLife, ...]]:
        """The lives that were made mostly in one material, for each such material by name."""
        codes = sorted({life.material for life in self.lives if life.material})
        return {code: tuple(x for x in self.lives if x.material == code) for code in codes}


def families(tools: Iterable[Tool], lives: Iterable[ToolLife]) -> list[Family]:
    """The families of some tools, in the order of these, each with its lives."""
    grouped: dict[tuple[str, str], list[Tool]] = {}
    for tool in tools:
        grouped.setdefault((tool.kind, tool.unit), []).append(tool)
    known: dict[tuple[str, str], list[ToolLife]] = {key: [] for key in grouped}
    for life in lives:
        known.get((life.tool.kind, life.tool.unit), []).append(life)
    kinds = [kind for kind, _ in grouped]
    return [
        Family(_name(key, kinds.count(key[0]) > 1), tuple(group), tuple(known[key]))
        for key, group in grouped.items()
    ]


def _name(key: tuple[str, str], shared: bool) -> str:
    """The kind; with the unit where tools of that kind wear by several."""
    kind, unit = key
    return f"{kind or NAMELESS} by {unit}" if shared else kind or NAMELESS
