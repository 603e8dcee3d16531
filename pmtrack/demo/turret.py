"""The stations of the turret: common tools keep theirs, others come in for a job."""

from datetime import datetime

from pmtrack.demo.programs import program_machine, weights
from pmtrack.demo.seed import stream
from pmtrack.demo.tool_room import ToolRoom
from pmtrack.rules.shop import Program, Shop

_OWN_STATIONS, _SHARED_STATIONS = 40, 6


class Turret:
    """Which tool is in which station of the machine that runs programs."""

    def __init__(self, shop: Shop, room: ToolRoom) -> None:
        self._room = room
        self._draw = stream("turret")
        self._machine = program_machine(shop) or ""
        ranked = _by_use(shop, self._machine)
        self._own = {code: f"T{n:02}" for n, code in enumerate(ranked[:_OWN_STATIONS], 1)}
        last = _OWN_STATIONS + _SHARED_STATIONS
        stations = [f"T{n:02}" for n in range(_OWN_STATIONS + 1, last + 1)]
        self._shared: dict[str, str | None] = dict.fromkeys(stations)

    def load(self, at: datetime) -> None:
        """Fit the tools that have a station of their own."""
        for code, station in self._own.items():
            self._room.fit(code, at, (self._machine, station))

    def prepare(self, program: Program, at: datetime) -> None:
        """Fit the tools that a program needs and that have no station of their own."""
        wanted = [code for code in program.hits if code not in self._own]
        for code in wanted:
            if code in self._shared.values():
                continue
            station = self._station_for(wanted)
            before = self._shared[station]
            if before:
                self._room.take_out(before, at)
            self._room.fit(code, at, (self._machine, station))
            self._shared[station] = code

    def _station_for(self, wanted: list[str]) -> str:
        """The first shared station without a tool; else one whose tool is not needed."""
        empty = [station for station, tool in self._shared.items() if tool is None]
        idle = [station for station, tool in self._shared.items() if tool not in wanted]
        return empty[0] if empty else self._draw.choice(idle)


def _punches(shop: Shop, machine: str) -> list[str]:
    """The tools of a machine that take a station: no dies, which come with their punch."""
    return [t.code for t in shop.tools if t.machine == machine and not (t.die_of or t.counts)]


def _by_use(shop: Shop, machine: str) -> list[str]:
    """The tools of a machine, those with the most hits first."""
    use = dict.fromkeys(_punches(shop, machine), 0.0)
    for weight, program in zip(weights(shop), shop.programs, strict=True):
        for code, hits in program.hits.items():
            use[code] += weight * float(hits)
    return sorted(use, key=lambda code: -use[code])
