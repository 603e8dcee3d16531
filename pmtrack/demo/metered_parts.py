"""Wear parts that count a meter of their machine: brake tools by turns, a nozzle, a lens."""

from collections import defaultdict
from collections.abc import Mapping
from datetime import timedelta
from fractions import Fraction

from pmtrack.demo.floor import Floor
from pmtrack.demo.seed import chance, stream
from pmtrack.demo.tool_room import ToolRoom
from pmtrack.demo.year import Watch
from pmtrack.rules.shop import Tool

_RARER = 0.6  # how much rarer each further tool of the file is used
_CHANGED = 0.12  # share of shifts before which another tool of a kind is put in


class MeteredParts:
    """Which of them is in which place: those of one kind, by its last word, take turns."""

    def __init__(self, floor: Floor, room: ToolRoom) -> None:
        self._floor = floor
        self._room = room
        self._draw = stream("metered parts")
        self._places: dict[tuple[str, str], list[Tool]] = defaultdict(list)
        for tool in floor.shop.tools:
            if tool.counts and not tool.die_of:
                word = (tool.kind.split() or ["head"])[-1]
                self._places[tool.machine, word].append(tool)
        self._fitted = {place: tools[0] for place, tools in self._places.items()}

    def load(self) -> None:
        """Fit the first of each kind."""
        for place, tool in self._fitted.items():
            self._room.fit(tool.code, self._floor.year.adopted_at, place)

    def prepare(self, shift: Watch) -> None:
        """Put another tool in now and then, before a shift."""
        for place, tools in self._places.items():
            if len(tools) > 1 and chance(self._draw, _CHANGED):
                self._change(place, tools, shift)

    def _change(self, place: tuple[str, str], tools: list[Tool], shift: Watch) -> None:
        shares = [1 / (1 + _RARER * rank) for rank in range(len(tools))]
        chosen, before = self._draw.choices(tools, shares)[0], self._fitted[place]
        at = shift.start + timedelta(minutes=self._draw.randrange(2, 20))
        if chosen is not before and at <= self._floor.year.now:
            self._room.take_out(before.code, at)
            self._room.fit(chosen.code, at, place)
            self._fitted[place] = chosen

    def run(self, machine: str, amounts: Mapping[str, Fraction]) -> None:
        """Wear what is fitted in a machine by what its meters gained in a shift."""
        for (where, _), tool in self._fitted.items():
            if where == machine:
                self._room.gain(tool.code, amounts.get(tool.counts or "", Fraction(0)))
