"""Solving a program with HiGHS through scipy: to a gap, never to a clock, so that runs repeat."""

from collections.abc import Sequence
from copy import copy
from dataclasses import replace
from math import inf
from typing import TYPE_CHECKING, Any

from pmtrack.planning.program import Program, Solution

if TYPE_CHECKING:
    import numpy as np

TOLERANCE = 0.015  # a gap that is good enough
NODES = 200  # branches after which the best plan found is taken, with its gap
WHOLE_AT_ONCE = 20_000  # columns of a program that is small
TINY = 1_000  # columns of a program that is cut once only: all of it is solved as fast
CUTS = (0.3, 1.0, 3.0)  # reduced costs up to which a column stays in the program that is cut
A_TRY = 10  # branches for each cut of a small program
NEAR = 4 / 3  # tolerances: a plan so near, found in a small program, is not worth solving all
FEW = 4.0  # such tolerances of the cost: the dearest column kept while those are decided
FIRST = 0.1  # of the tolerance: how near to the best the columns decided first are brought


def solve(
    program: Program,
    tolerance: float = TOLERANCE,
    nodes: int = NODES,
    first: Sequence[int] = (),
) -> Solution:
    """The cheapest solution, or one proven to lie within the tolerance of it.

    The program is solved with fractions first. That gives a bound for all solutions, and tells what
    each column would cost to use. The dear ones are left out, and the rest is solved in whole
    numbers; its cost is held against the bound. Where that does not do, more columns are kept, and
    in the end all. In a small program the columns named `first` are whole numbers from the start,
    for the better bound, and stay as they were found; all are free again where all is solved.
    Raises ValueError where no solution exists.
    """
    form = _Form(program)
    bound, prices, best = -inf, list[float](), None
    small = len(program.cost) <= WHOLE_AT_ONCE
    if tolerance > 0:
        cut = form
        if small and first and (decided := form.decided(first, tolerance * FIRST, nodes)):
            cut, bound = decided
        fractions, reduced, prices = cut.with_fractions()
        bound = bound if cut is not form else fractions
        reduced[list(program.ways_out)] = 0
        for most in CUTS[: 1 if len(program.cost) <= TINY else None]:
            branches = min(nodes, A_TRY) if small else nodes
            found = cut.in_whole_numbers(reduced <= most, tolerance / 3, branches)
            if found and (best is None or found[1] < best.cost):
                best = Solution(found[0], found[1], bound, bound, prices)
            if best and best.gap <= (tolerance * NEAR if small else tolerance):
                return best
    found = form.in_whole_numbers(None, tolerance, nodes)
    if found is None:
        raise ValueError("the program has no solution")
    whole = Solution(*found, bound, prices)
    if best is None or whole.cost <= best.cost:
        return whole
    return replace(best, bound=max(bound, whole.bound))


def solve_apart(program: Program) -> Solution:
    """The cheapest solution of a program that falls into parts which share no row: part by part."""
    import numpy as np
    from scipy.sparse import bmat
    from scipy.sparse.csgraph import connected_components

    form = _Form(program)
    count, part = connected_components(bmat([[None, form.matrix.T], [form.matrix, None]]))
    columns, rows = np.split(part, [len(program.cost)])
    values, cost, bound = np.zeros(len(program.cost)), 0.0, 0.0
    for number in range(count):
        mine = columns == number
        found = form.part(mine, rows == number).in_whole_numbers(None, 0.0, NODES)
        if found is None:
            raise ValueError("the program has no solution")
        values[mine], cost, bound = found[0], cost + found[1], bound + found[2]
    return Solution(values.tolist(), cost, bound)


def row_prices(program: Program) -> list[float]:
    """What one more of each row's most would save, where columns take fractions."""
    return _Form(program).with_fractions()[2]


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

    def part(self, columns: "np.ndarray[Any, Any]", rows: "np.ndarray[Any, Any]") -> "_Form":
        """The same with some columns and rows only."""
        made = copy(self)
        made.cost, made.most, made.whole = (
            whole[columns] for whole in (self.cost, self.most, self.whole)
        )
        made.least_of_row, made.most_of_row = self.least_of_row[rows], self.most_of_row[rows]
        made.matrix = self.matrix[:, columns].tocsr()[rows].tocsc()
        return made

    def decided(
        self, columns: Sequence[int], tolerance: float, nodes: int
    ) -> "tuple[_Form, float] | None":
        """The same with some columns held where they are best while the others take fractions.

        Also the bound of that, which none without them held can beat; None where none was found.
        """
        import numpy as np

        made = copy(self)
        made.whole = np.zeros_like(self.whole)
        made.whole[columns] = self.whole[columns]
        least, reduced, _ = self.with_fractions()
        reduced[columns] = 0
        most = tolerance * FEW * least  # a column left out costs so much more than the least
        found = made.in_whole_numbers(reduced <= most, tolerance, nodes)
        if found is None or found[2] > least + most:
            found = made.in_whole_numbers(None, tolerance, nodes)
        if found is None:
            return None
        held = copy(self)
        held.most = self.most.copy()
        held.most[columns] = np.round(np.array(found[0])[columns])
        return held, found[2]

    def with_fractions(self) -> "tuple[float, np.ndarray[Any, Any], list[float]]":
        """The bound, the reduced cost of each column (0 if in use), the price of each row."""
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
        prices = np.zeros(len(equal))
        prices[above] = -found.ineqlin.marginals[: above.sum()]
        reduced = np.where(found.x > 0, 0.0, found.lower.marginals)
        return float(found.fun), reduced, prices.tolist()

    def in_whole_numbers(
        self, kept: "np.ndarray[Any, Any] | None", tolerance: float, nodes: int
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
            options={"mip_rel_gap": tolerance, "node_limit": nodes},
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
