"""How near a plan is to the best one, in words."""

import pytest

from pmtrack.screens.plan_screen import nearness


@pytest.mark.parametrize(
    ("gap", "words"),
    [
        (0.0, "the best there is"),
        (1e-9, "the best there is"),  # the solver's rounding
        (0.0004, "within 0.1 % of the best there can be"),  # not proven to be the best
        (0.0123, "within 1.2 % of the best there can be"),
    ],
)
def test_how_near_a_plan_is_to_the_best(gap: float, words: str) -> None:
    assert nearness(gap) == words
