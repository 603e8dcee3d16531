"""A booked visit stays; what the law demands and was missed is made up for at once."""

from tests.command import Command
from tests.planned_shop import days, plan, reasons, told_changes

NOTICE_HAS_BEGUN = "2027-01-11T08:00"  # 9 days before the visit of the 20th, of 21 days' notice


def test_a_booked_visit_stays_where_it_is(saved: Command) -> None:
    saved("done", "FE-1/look", "--at", "2027-01-04", now="2027-01-05T08:00")
    found = plan(saved, now=NOTICE_HAS_BEGUN)
    assert told_changes(found) == {("dropped", "FE-1/look", "2027-01-04", None)}
    assert {("TP-1/half-year", "2027-01-20"), ("PB-1/half-year", "2027-01-20")} <= days(found)
    assert found["unfit"] == []
    (call,) = found["calls"]
    assert call["overdue"]  # whoever has not called yet is late


def test_what_the_law_demands_and_was_missed_is_done_at_once(saved: Command) -> None:
    found = plan(saved, now=NOTICE_HAS_BEGUN)
    assert ("moved", "FE-1/look", "2027-01-04", "2027-01-11") in told_changes(found)
    later = plan(saved, now="2027-01-19T08:00")  # also where its next day is near
    assert ("moved", "FE-1/look", "2027-01-04", "2027-01-19") in told_changes(later)
    assert "Mon 2027-01-04 passed without it" in reasons(later, "FE-1/look")
