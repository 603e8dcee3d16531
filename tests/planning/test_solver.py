"""Programs small enough to be solved by hand, and those without a solution."""

import pytest

from pmtrack.planning.program import Program
from pmtrack.planning.solver import solve, solve_apart


def covering(*costs: float, whole: bool = True) -> Program:
    """Three columns of some costs: the first or the second, and the first or the third."""
    program = Program()
    columns = [program.column(cost, whole=whole) for cost in costs]
    for other in columns[1:]:
        program.put(program.row(least=1), [columns[0], other])
    return program


@pytest.mark.parametrize("tolerance", [0.0, 0.015])
@pytest.mark.parametrize(
    ("costs", "cost", "values"),
    [
        ((3, 2, 2), 3, [1, 0, 0]),  # 3 against 2 + 2
        ((5, 2, 2), 4, [0, 1, 1]),
        ((1, 0, 0), 0, [0, 1, 1]),
    ],
)
def test_the_cheapest_columns_that_keep_all_rows(
    tolerance: float, costs: tuple[float, ...], cost: float, values: list[float]
) -> None:
    found = solve(covering(*costs), tolerance)
    assert found.cost == pytest.approx(cost)
    assert found.gap == pytest.approx(0)
    assert found.values == pytest.approx(values)


def test_columns_that_need_not_be_whole_take_what_they_need() -> None:
    """Half of each of three columns keeps three rows of two: 1.5 against 2 in whole numbers."""
    for whole, cost in ((False, 1.5), (True, 2)):
        program = Program()
        columns = [program.column(1, whole=whole) for _ in range(3)]
        for left in columns:
            program.put(program.row(least=1, most=2), [c for c in columns if c != left])
        assert solve(program).cost == pytest.approx(cost)
        assert solve_apart(program).cost == pytest.approx(cost)


def test_parts_that_share_no_row_are_solved_one_by_one() -> None:
    program = covering(3, 2, 2)
    alone = program.column(7, most=4)
    program.put(program.row(least=3), [alone])
    found = solve_apart(program)
    assert found.cost == pytest.approx(3 + 3 * 7)
    assert found.values == pytest.approx([1, 0, 0, 3])


@pytest.mark.parametrize(
    ("factor", "least"),
    [
        (1, 2),  # one column of at most 1 is to make 2
        (2, 1),  # half of it would do, but it is whole
    ],
)
def test_a_program_without_a_solution_is_told_as_such(factor: float, least: float) -> None:
    program = Program()
    program.put(program.row(least=least, most=least), [program.column(1)], factor)
    for tolerance in (0.0, 0.015):
        with pytest.raises(ValueError, match="no solution"):
            solve(program, tolerance)
    with pytest.raises(ValueError, match="no solution"):
        solve_apart(program)
