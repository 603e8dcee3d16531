"""A linear program as it is written down: columns with their costs, rows with their limits."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import inf


@dataclass
class Program:
    """Minimise the cost of the columns, each from 0 to its most, so that rows keep their limits.

    A whole column takes whole numbers only. Those of `ways_out` alone always give a solution.
    """

    cost: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    row_least: list[float] = field(default_factory=list)
    row_most: list[float] = field(default_factory=list)
    at_row: list[int] = field(default_factory=list)
    at_column: list[int] = field(default_factory=list)
    factor: list[float] = field(default_factory=list)
    ways_out: set[int] = field(default_factory=set)

    def column(self, cost: float, most: float = 1, whole: bool = True) -> int:
        """A new column; its number."""
        self.cost.append(cost)
        self.most.append(most)
        self.whole.append(whole)
        return len(self.cost) - 1

    def row(self, least: float = -inf, most: float = inf) -> int:
        """A new row; its number."""
        self.row_least.append(least)
        self.row_most.append(most)
        return len(self.row_least) - 1

    def put(self, row: int, columns: Iterable[int], factor: float = 1) -> None:
        """Add columns to a row, each times the factor."""
        for column in columns:
            self.at_row.append(row)
            self.at_column.append(column)
            self.factor.append(factor)


@dataclass(frozen=True)
class Solution:
    """The value of each column, the cost, and the bound that no solution can lie below.

    `with_fractions` is the cost where columns take fractions, `row_prices` what one more of a row's
    most would save there; both only where the program was solved so.
    """

    values: list[float]
    cost: float
    bound: float
    with_fractions: float = -inf
    row_prices: Sequence[float] = ()

    @property
    def gap(self) -> float:
        """How far the cost may lie above the best one, as a share of it."""
        return max(self.cost - self.bound, 0.0) / self.cost if self.cost > 0 else 0.0
