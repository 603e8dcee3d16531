"""What the turret punch press makes: runs of programs, their parts and hits."""

from dataclasses import dataclass
from fractions import Fraction

from pmtrack.demo.seed import chance, stream
from pmtrack.rules.shop import Program, Shop

_SHIFTS_A_RUN = 0.4  # share of shifts after which the next job comes on
_RARER = 0.35  # how much rarer each further program of the file is
_SCRAP = (0.004, 0.02)
_BESIDE = (0.003, 0.02)  # hits of no part: set-up and test hits


@dataclass(frozen=True)
class Made:
    """What was made in one run of a program: parts good and scrap, and all hits."""

    program: Program | None
    parts: int
    scrap: int
    count: int


def program_machine(shop: Shop) -> str | None:
    """The machine on which the programs of the shop run: that of their tools."""
    used = {code for program in shop.programs for code in program.hits}
    return next((tool.machine for tool in shop.tools if tool.code in used), None)


def weights(shop: Shop) -> list[float]:
    """How often each program runs: those first in the file the most."""
    return [1 / (1 + _RARER * place) for place in range(len(shop.programs))]


class Runs:
    """The programs one after another."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._draw = stream("programs")
        self._weights = weights(shop)
        self.program = self._next()

    def _next(self) -> Program:
        return self._draw.choices(self._shop.programs, self._weights)[0]

    def change(self) -> bool:
        """Whether another program is put on before the next shift."""
        if not chance(self._draw, _SHIFTS_A_RUN):
            return False
        before, self.program = self.program, self._next()
        return before is not self.program

    def made(self, hits: int) -> Made:
        """Whole parts of the running program for about so many hits."""
        each = sum(self.program.hits.values(), Fraction(0))
        total = int(hits / each)
        scrap = round(total * self._draw.uniform(*_SCRAP))
        beside = int(total * each * Fraction(self._draw.uniform(*_BESIDE)))
        return Made(self.program, total - scrap, scrap, int(total * each) + beside)
