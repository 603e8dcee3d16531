"""The demo's year as a page for a meeting: four pictures, three things, not a line too many."""

from datetime import timedelta

import pytest

from pmtrack.actions.meeting import meeting
from pmtrack.actions.report import Asked
from pmtrack.actions.view import View
from pmtrack.screens.report_page import report_page
from tests.demo.conftest import Demo
from tests.pictures.inlined import Page, taken_apart

MOST_BYTES = 600_000


@pytest.fixture(scope="module")
def document(whole: Demo) -> str:
    """The page of the year up to yesterday."""
    last = whole.today - timedelta(days=1)
    asked = Asked(last - timedelta(days=364), last)
    with whole.store.reading():
        view = View(whole.store, whole.today)
        return report_page(meeting(view, whole.now, asked, whole.today))


@pytest.fixture(scope="module")
def year(document: str) -> Page:
    """The same, taken apart."""
    return taken_apart(document)


def test_three_things_are_told_each_with_its_evidence(year: Page) -> None:
    things = year.html.all("section", "things")[0].all("li")
    assert [thing.all("b", "number")[0].text for thing in things] == ["1", "2", "3"]
    assert all(thing.all("code")[0].text.startswith("pmtrack ") for thing in things)


def test_all_four_pictures_are_there_with_a_sentence_each(year: Page) -> None:
    assert len(year.pictures) == 4
    captions = [figure.all("figcaption")[0].text for figure in year.html.all("figure")]
    starts = ["See the tallest black bar", "See the top", "A curve that bends up"]
    assert [c.startswith(s) for c, s in zip(captions, starts, strict=False)] == [True] * 3
    assert "jobs by law or standard" in captions[3]


def test_association_is_never_told_as_cause(year: Page) -> None:
    weeks = year.html.all("figure")[0].text
    assert "went with" in weeks
    assert "That is association, not cause" in weeks


def test_dials_of_the_time_before_the_first_shift_are_not_hits_of_the_first_week(
    year: Page,
) -> None:
    """The demo reads its dials before the first shift: weeks of hits since the old binder's."""
    ticks = [w.replace(",", "") for w in year.words("Downtime over")]
    amounts = [int(tick) for tick in ticks if tick.isdigit() and len(tick) > len("2026")]
    assert max(amounts) <= 80_000, "TP-1 makes about 45,000 hits in a full week"


def test_it_can_be_sent_by_mail(document: str) -> None:
    assert len(document.encode()) < MOST_BYTES
