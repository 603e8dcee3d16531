"""Solving a program with HiGHS through scipy: to a gap, never to a clock, so that runs repeat."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from pmtrack.planning.program import Program, Solution

if TYPE_CHECKING:
    import numpy as np

TOLERANCE = 0.015  # a gap that is good enough
NODES = 200  # branches after which the best plan found is taken, with its gap
CUTS = (0.3, 1.0, 3.0)  # reduced costs up to which a column stays in the program that is cut


def solve(program: Program, tolerance: float = TOLERANCE) -> Solution:
    """The cheapest solution, or one proven to lie within the tolerance of it.

    The program is solved with fractions first. That gives a bound for all solutions, and tells what
    each column would cost to use. The dear ones are left out, and the rest is solved in whole
    numbers; its cost is held against the bound. Only where that does not do is all of it solved.
    Raises ValueError where no solution exists.
    """
    form = _Form(program)
    if tolerance > 0:
        bound, reduced = form.with_fractions()
        reduced[list(program.ways_out)] = 0
        for most in CUTS:
            found = form.in_whole_numbers(reduced <= most, tolerance / 3)
            if found and (solution := Solution(found[0], found[1], bound)).gap <= tolerance:
                return solution
    found = form.in_whole_numbers(None, tolerance)
    if found is None:
        raise ValueError("the program has no solution")
    return Solution(*found)


class _Form:
    """A program as arrays."""

    def __init__(self, program: Program) -> None:
        import numpy as np
        from scipy.sparse import coo_array

        self.cost = np.array(program.cost)
        self.most = np.array(program.most)
        self.whole = np.array(program.whole, dtype=int)
        self.least_of_row = np.array(program.row_least)
        self.most_of_row = np.array(program.row_most)
        self.matrix = coo_array(
            (program.factor, (program.at_row, program.at_column)),
            shape=(len(program.row_least), len(program.cost)),
        ).tocsc()

    def with_fractions(self) -> "tuple[float, np.ndarray[Any, Any]]":
        """The bound, and the reduced cost of each column; 0 for those in use."""
        import numpy as np
        from scipy.optimize import linprog
        from scipy.sparse import vstack

        equal = self.least_of_row == self.most_of_row
        rows = self.matrix.tocsr()
        above, below = (
            np.isfinite(self.most_of_row) & ~equal,
            np.isfinite(self.least_of_row) & ~equal,
        )
        found = linprog(
            self.cost,
            A_ub=vstack([rows[above], -rows[below]]),
            b_ub=np.concatenate([self.most_of_row[above], -self.least_of_row[below]]),
            A_eq=rows[equal],
            b_eq=self.most_of_row[equal],
            bounds=np.column_stack([np.zeros_like(self.most), self.most]),
            method="highs-ds",
        )
        if found.x is None:
            raise ValueError("the program has no solution")
        return float(found.fun), np.where(found.x > 0, 0.0, found.lower.marginals)

    def in_whole_numbers(
        self, kept: "np.ndarray[Any, Any] | None", tolerance: float
    ) -> tuple[list[float], float, float] | None:
        """Values, cost and bound with the columns kept (None: all); None where there is none."""
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp

        columns = np.arange(len(self.cost)) if kept is None else np.flatnonzero(kept)
        found = milp(
            self.cost[columns],
            integrality=self.whole[columns],
            bounds=Bounds(0, self.most[columns]),
            constraints=LinearConstraint(
                self.matrix[:, columns], self.least_of_row, self.most_of_row
            ),
            options={"mip_rel_gap": tolerance, "node_limit": NODES},
        )
        if found.x is None:
            return None
        values = np.zeros(len(self.cost))
        values[columns] = found.x
        bound = found.fun if found.mip_dual_bound is None else found.mip_dual_bound
        return values.tolist(), float(found.fun), float(bound)


def rounded(values: Sequence[float], columns: Sequence[int]) -> list[int]:
    """The whole values of some columns."""
    return [round(values[column]) for column in columns]
