"""The commands of a desk in the bench of crashes: what people type, on an invented shop.

Each command bears a name of its own as the one who records it, so that its rows are known for good.
"""

import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

NOW = "2026-11-25T14:45"  # a Wednesday, a quarter of an hour after the day shift
TODAY = date(2026, 11, 25)
MACHINES = ("TP-1", "TP-2", "PB-1", "PB-2")
PERIOD = "2027-Q1"
KINDS = {  # of commands, and how often each is typed
    "apply": 6, "log": 30, "done": 14, "import": 18, "job": 6, "void": 8, "stop": 6, "restart": 5,
    "idle": 2, "back": 2, "tool": 6, "plan": 2,
}  # fmt: skip
MAY_BE_REFUSED = ("stop", "restart", "idle", "back", "void")  # for what happened before
_SHOP = """\
shop:
  name: Quillback Sheet Works, drawing {version}
  timezone: America/New_York
  shifts:
    - {{name: day, days: mon-sun, start: "06:00", end: "14:30"}}
  crew_hours: 40
machines:
"""
_MACHINE = (
    "  - {{code: {code}, name: 'Press {code}, drawing {version}', meters: "
    "{{hits: {{expected: 9000 per day}}, hours: {{expected: 11 per day}}}}}}\n"
)
_REST = """\
tasks:
  - code: monthly
    machines: [TP-1, TP-2, PB-1, PB-2]
    title: Monthly in-house service
    every: [1 month, 400 hours]
    minutes: 90
    last_done: {on: 2026-10-25, hours: 0}
    steps: [{measure: pump-pressure, text: Pump pressure, unit: bar, min: 150, max: 170}]
tooling:
  - {code: RD-10, machine: TP-1, sharpen_every: 60000, grind: 0.2, grindable: 3.0}
"""


def shop_text(version: str) -> str:
    """The shop's file; its version stands in the shop's name and in each machine's."""
    machines = "".join(_MACHINE.format(code=code, version=version) for code in MACHINES)
    return _SHOP.format(version=version) + machines + _REST


@dataclass(frozen=True)
class Typed:
    """A command: its kind, who records it, and its words."""

    kind: str
    by: str
    words: tuple[str, ...]


@dataclass
class Desk:
    """Types one command after another; tools, days and amounts are by chance."""

    name: str
    folder: Path
    chance: random.Random
    own: str = MACHINES[0]  # the machine that this desk alone stops
    kinds: Mapping[str, int] = field(default_factory=lambda: KINDS)
    voidable: list[int] = field(default_factory=list)  # entries that are surely there
    typed: int = 0

    def next(self) -> Typed:
        """The next command, of a kind by chance."""
        (kind,) = self.chance.choices(list(self.kinds), list(self.kinds.values()))
        return self.typed_of("log" if kind == "void" and not self.voidable else kind)

    def typed_of(self, kind: str) -> Typed:
        """The next command, of that kind."""
        self.typed += 1
        by = f"{self.name}.{self.typed}"
        return Typed(kind, by, (*getattr(self, f"_{kind}")(by), "--by", by))

    def _day(self) -> date:
        return TODAY - timedelta(days=self.chance.randrange(1, 12))

    def _log(self, by: str) -> tuple[str, ...]:
        hits = self.chance.randrange(1, 9000)
        words = ("log", self.chance.choice(MACHINES), "--shift", "day", "--date", f"{self._day()}")
        return (*words, "--hits", f"{hits}", "--hours", "8", "--parts", "10", "--note", by)

    def _done(self, by: str) -> tuple[str, ...]:
        task = f"{self.chance.choice(MACHINES)}/monthly"
        found = ("--measure", "pump-pressure=149", "--follow-up", f"look at the pump, {by}")
        return ("done", task, "--minutes", "80", "--at", f"{self._day()}T10:00", *found)

    def _import(self, by: str) -> tuple[str, ...]:
        path = self.folder / f"{by}.csv"
        many = self.chance.randrange(2, 40)
        rows = [
            f"{self.chance.choice(MACHINES)},day,{self._day()},{by},{number},{number % 9},1"
            for number in range(many)
        ]
        path.write_text("\n".join(["machine,shift,date,by,hits,hours,parts", *rows]) + "\n")
        return ("import", "shifts", str(path), "--again")

    def _tool(self, by: str) -> tuple[str, ...]:
        path = self.folder / f"{by}.csv"
        rows = [f"RD-10,{self._day()}T12:00,{number},{by}" for number in range(1, 6)]
        path.write_text("\n".join(["tool,at,hits,by", *rows]) + "\n")
        return ("import", "tool-counts", str(path), "--again")

    def _job(self, by: str) -> tuple[str, ...]:
        return ("job", self.chance.choice(MACHINES), f"replace the hose, {by}")

    def _void(self, by: str) -> tuple[str, ...]:
        entry = self.voidable.pop(self.chance.randrange(len(self.voidable)))
        return ("void", f"{entry}", "--why", "typed twice")

    def _apply(self, by: str) -> tuple[str, ...]:
        path = self.folder / f"{by}.yaml"
        path.write_text(shop_text(by))
        return ("apply", str(path))

    def _stop(self, by: str) -> tuple[str, ...]:
        return ("stop", self.own, "--cause", "hydraulic leak")

    def _restart(self, by: str) -> tuple[str, ...]:
        return ("restart", self.own)

    def _idle(self, by: str) -> tuple[str, ...]:
        return ("idle", self.own, "--why", "waits for a drive")

    def _back(self, by: str) -> tuple[str, ...]:
        return ("back", self.own)

    def _plan(self, by: str) -> tuple[str, ...]:
        return ("plan", PERIOD, "--save")
