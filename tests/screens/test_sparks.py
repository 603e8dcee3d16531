"""Pictures of one line and of a few, of plain characters."""

import pytest

from pmtrack.screens.sparks import counted, spark, staircase


@pytest.mark.parametrize(
    ("values", "drawn"),
    [
        ([], ""),
        ([0, 0, 0], "   "),
        ([0, 9], " @"),
        ([1, 2, 3, 4, 5, 6, 7, 8, 9], ".:-=+*#%@"),
        ([1, 100], ".@"),  # little is still seen
        ([5, 10], "=@"),  # 4.5 of 9 to the even 4
    ],
)
def test_more_is_darker(values: list[float], drawn: str) -> None:
    assert spark(values) == drawn


def test_ages_are_counted_by_equal_parts_the_end_in_the_last() -> None:
    assert counted([1, 9.9, 10, 99, 100], 100, 10) == [2, 1, 0, 0, 0, 0, 0, 0, 0, 2]


def test_a_count_grows_like_stairs() -> None:
    # 1 at 25, 2 at 50, 4 at 100; four places end at 25, 50, 75 and 100
    rows = staircase([(25, 1), (50, 2), (100, 4)], 100, (4, 4))
    assert rows == ["   #", "   #", " ###", "####"]


def test_without_failures_there_are_no_stairs() -> None:
    assert staircase([], 100, (4, 4)) == []
