"""Lives and failures for the statistics: from tables of published values, and drawn by chance."""

from random import Random

from hypothesis import strategies as st

from pmtrack.statistics.histories import History
from pmtrack.statistics.lives import Life
from pmtrack.statistics.weibull import Weibull
from tests.build import reference


def published_lives(name: str) -> list[Life]:
    """The lives of a table with the columns `hours` and `event`; event 1 is a failure."""
    return [Life(float(row["hours"]), row["event"] == "1") for row in reference(name)]


def lives_of(text: str) -> list[Life]:
    """`40 55+ 70`: amounts, `+` where the life was cut short."""
    return [Life(float(part.rstrip("+")), not part.endswith("+")) for part in text.split()]


def published_failures(name: str, end: float) -> History:
    """The failures of a table with the column `failure_h`, watched to a set time."""
    return History(tuple(sorted(float(row["failure_h"]) for row in reference(name))), end)


def drawn_lives(chance: Random, law: Weibull, planned_at: float, tools: int) -> list[Life]:
    """One life of each of so many tools, sharpened as planned within 15 % of an amount."""
    lives = []
    for _ in range(tools):
        fails = chance.weibullvariate(law.scale, law.shape)
        sharpened = planned_at * chance.uniform(0.85, 1.15)
        lives.append(Life(min(fails, sharpened), fails <= sharpened))
    return lives


def evenly_failing(chance: Random, failures: int, end: float) -> History:
    """So many failures of a machine without a trend."""
    return History(tuple(sorted(end * (1 - chance.random()) for _ in range(failures))), end)


def rising(chance: Random, failures: int, slope: float) -> History:
    """So many failures by a power law, watched to 1000 h."""
    ages = (1000 * (1 - chance.random()) ** (1 / slope) for _ in range(failures))
    return History(tuple(sorted(ages)), 1000)


def spread(lives: list[Life]) -> bool:
    """Whether failures lie at three amounts or more, the longest at least twice the shortest."""
    failed = {life.amount for life in lives if life.failed}
    return len(failed) > 2 and max(failed) >= 2 * min(failed)


amounts = st.integers(1, 400).map(float)
some_lives = st.lists(st.builds(Life, amounts, st.booleans()), min_size=1, max_size=30)
fitting_lives = st.lists(st.builds(Life, amounts, st.booleans()), min_size=4, max_size=30).filter(
    spread
)
