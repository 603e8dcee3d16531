"""Before and after a shutdown: nothing is done twice within a day or two for its sake.

June 2026 begins on a Monday; the made shop works Monday to Friday, here not from 18 to 26 June.
"""

from tests.build import shop, task
from tests.planning.by_hand import days, planned

SHUT = shop("06-18..06-26")


def test_a_weekly_job_is_done_once_before_the_shutdown_and_once_after() -> None:
    """Done on Tuesday 9 June, due on the 16th, with a day of grace.

    Done on the 16th it would be due again on the 23rd, in the shutdown, and so to be done on the
    17th. Done on the 17th, a day late, it is due on the 24th, and no working day comes before the
    29th.
    """
    job = task("1 week", minutes=15)
    plan = planned((job, "06-09"), today="06-10", last="06-30", where=SHUT)
    assert days(plan) == {"service": ["06-17", "06-29"]}


def test_what_an_authority_demands_is_done_again_for_it_is_never_late() -> None:
    job = task("1 week", minutes=15, authority="an inspectorate")
    plan = planned((job, "06-09"), today="06-10", last="06-26", where=SHUT)
    assert days(plan)["service"][-2:] == ["06-16", "06-17"]


def test_a_job_done_the_day_before_is_done_again_as_the_due_date_wants_it() -> None:
    """Done on Tuesday 16 June: due on the 23rd, and the 17th is the last working day before."""
    job = task("1 week", minutes=15)
    plan = planned((job, "06-16"), today="06-17", last="06-26", where=SHUT)
    assert days(plan)["service"][0] == "06-17"
