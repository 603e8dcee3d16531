"""Jobs that fit on no day: what stands in their way, and what would cure it."""

import pytest

from pmtrack.rules.plan import Plan, UnfitJob
from tests.build import shop, task
from tests.planning.by_hand import days, planned

WEEKLY = {"grace": "0 days", "minutes": 90}  # done last on Monday 1 June: due on Monday 8 June


def only(plan: Plan) -> UnfitJob:
    """The one job that does not fit."""
    (job,) = plan.unfit
    return job


def test_crew_hours_are_short_by_so_much_in_a_week() -> None:
    """Two jobs of 90 min on Monday 8 June (week 24) and 120 min of crew: short by 60 min."""
    jobs = [(task("1 week", code=code, **WEEKLY), "06-01") for code in ("one", "two")]
    plan = planned(*jobs, last="06-12", hours=2)
    unfit = only(plan)
    assert (unfit.kind, str(unfit.due_on)) == ("crew", "2026-06-08")
    assert "Mon 2026-06-08 (week 24)" in unfit.reason
    assert "short by 1.0 h" in unfit.reason
    assert unfit.cure.startswith("1.0 h more crew on Mon 2026-06-08")
    assert list(days(plan).values()) == [["06-08"]]


def test_notice_is_too_short_for_the_visit() -> None:
    """A call on 2 June with 14 days' notice: 16 June, 8 days after the last day, 8 June."""
    job = task("1 week", crew="firm-a", **WEEKLY)
    unfit = only(planned((job, "06-01"), last="06-12", notice={"firm-a": 14}))
    assert unfit.kind == "notice"
    assert "firm-a needs 14 days' notice" in unfit.reason
    assert "8 days after the last day on time" in unfit.reason
    assert str(unfit.earliest) == "2026-06-16"
    assert "by Mon 2026-06-08" in unfit.cure


def test_the_shutdown_swallows_the_window_of_an_authority_job() -> None:
    """Due on Wednesday 10 June, closed 5 to 14 June, and today it is 8 June."""
    job = task("1 month", authority="an inspectorate", minutes=30)
    closed = shop("06-05..06-14")
    unfit = only(planned((job, "05-10"), today="06-08", where=closed))
    assert (unfit.kind, str(unfit.earliest)) == ("closed", "2026-06-15")
    assert "the last working day before was Thu 2026-06-04" in unfit.reason
    assert unfit.cure == "open the shop for it on a closed day"  # never past its due date


def test_asked_in_time_the_job_comes_before_the_shutdown() -> None:
    job = task("1 month", authority="an inspectorate", minutes=30)
    plan = planned((job, "05-10"), today="06-02", where=shop("06-05..06-14"))
    assert days(plan) == {"service": ["06-04"]}


def test_a_job_is_longer_than_the_hours_of_the_crew() -> None:
    job = task("2 weeks", minutes=600)
    unfit = only(planned((job, "06-01"), hours=8))
    assert (unfit.kind, unfit.reason) == ("crew", "it takes 10.0 h, the crew has 8.0 h a day")


@pytest.mark.parametrize(("minutes", "fit"), [(255, 2), (260, 1)])
def test_a_visit_is_no_longer_than_the_shift(minutes: int, fit: int) -> None:
    """Two jobs of a firm on one day: 510 min are there for both, 520 are not."""
    some = {"grace": "0 days", "minutes": minutes, "crew": "firm-a"}
    jobs = [(task("1 week", code=code, **some), "06-01") for code in ("one", "two")]
    plan = planned(*jobs, last="06-12", notice={"firm-a": 0})
    assert len(plan.jobs) == fit
    assert [job.kind for job in plan.unfit] == ["shift"] * (2 - fit)


def test_a_visit_of_one_job_may_outlast_the_shift() -> None:
    job = task("1 week", crew="firm-a", grace="0 days", minutes=700)
    plan = planned((job, "06-01"), last="06-12", notice={"firm-a": 0})
    assert days(plan) == {"service": ["06-08"]}
