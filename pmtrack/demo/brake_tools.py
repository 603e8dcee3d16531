"""The press-brake tools: once a week their share of the bends is entered."""

from fractions import Fraction

from pmtrack.demo.floor import Floor
from pmtrack.demo.programs import program_machine
from pmtrack.demo.tool_room import ToolRoom
from pmtrack.demo.year import Watch
from pmtrack.rules.shop import Tool

_RARER = 0.6  # how much rarer each further tool of the file is used
_AT_ONCE = 2  # every bend takes a punch and a die


class BrakeTools:
    """Tools that no program tells of, on machines with a meter."""

    def __init__(self, floor: Floor, room: ToolRoom) -> None:
        self._floor = floor
        self._room = room
        self._tools = [t for t in floor.shop.tools if t.machine != program_machine(floor.shop)]
        self._counted = {tool.code: self._bends(tool) for tool in self._tools}
        self._shares = [1 / (1 + _RARER * place) for place in range(len(self._tools))]

    def _bends(self, tool: Tool) -> Fraction:
        counters = self._floor.counters[tool.machine]
        return next(iter(counters.values())).usage if counters else Fraction(0)

    def load(self) -> None:
        """Fit each on its machine."""
        for number, tool in enumerate(self._tools, 1):
            self._room.fit(tool.code, self._floor.year.adopted_at, (tool.machine, f"B{number}"))

    def count(self, shift: Watch) -> None:
        """Enter the hits since the last time, at the end of the week's last shift."""
        year = self._floor.year
        last = shift.place == len(year.shifts(shift.day)) - 1
        ahead = year.moved(shift.day, 1)
        ends_week = ahead.isocalendar().week != shift.day.isocalendar().week
        if last and ends_week and shift.end <= year.now:
            for tool, share in zip(self._tools, self._shares, strict=True):
                self._count(tool, share, shift)

    def _count(self, tool: Tool, share: float, shift: Watch) -> None:
        bends, before = self._bends(tool), self._counted[tool.code]
        self._counted[tool.code] = bends
        part = min(_AT_ONCE * share / sum(self._shares), 1)
        hits = int(float(bends - before) * part)
        if hits:
            self._room.count(tool.code, shift.end, Fraction(hits))
