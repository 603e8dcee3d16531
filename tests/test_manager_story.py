"""The manager's story on the demo store: from a changed shop file to a revised CalDAV calendar."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from uuid import uuid4

import keyring
import pytest

from pmtrack.publishing.credentials import PASSWORD, USER
from tests.command import Command, Told
from tests.publishing.conftest import OwnKeyring
from tests.publishing.loopback import gated, radicale
from tests.publishing.remote import Calendar

pytestmark = pytest.mark.long
SAMPLE = Path(__file__).parents[1] / "sample_shop.yaml"
MORNING = "2026-11-25T06:20"
NOON = "2026-11-25T12:00"
Q1 = "2027-Q1"
CURTAIN = """\
  - code: light-curtain
    machines: [SH-1]
    title: Light curtain and stopping distance measured
    every: 6 months
    crew: press-service
    minutes: 60
    last_done: {on: 2026-07-27}
"""


@dataclass
class Story:
    """What was planned and told at each step, and what the calendar held after it."""

    plans: list[Any]
    told: list[str]
    parts: list[dict[str, Any]]
    versions: list[dict[str, str]]

    def entries(self, step: int, title: str) -> dict[str, Any]:
        """The events with a word in their title, by UID."""
        return {u: e for u, e in self.parts[step].items() if title in str(e["SUMMARY"])}


def changed_sample() -> str:
    """The sample shop: closed on 28 January, one interval halved, one doubled, one task more."""
    text = SAMPLE.read_text("utf-8")
    closed = "    - {from: 2026-12-24, to: 2027-01-01, why: winter shutdown}\n"
    blocks = text.split("  - code: ")
    (quarter,) = (b for b in blocks if b.startswith("quarter\n    machines: [DC-2]"))
    edits = [
        (closed, f"{closed}    - {{on: 2027-01-28, why: stocktaking}}\n"),
        ("every: 2 weeks\n    minutes: 25", "every: 1 week\n    minutes: 25"),
        (quarter, quarter.replace("every: 3 months", "every: 6 months")),
        ("\nmaterials:\n", f"\n{CURTAIN}materials:\n"),
    ]
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


@pytest.fixture(scope="module")
def story(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Story]:
    """Plan, save and publish; change the shop file; plan, save and publish; publish once more."""
    folder = tmp_path_factory.mktemp("story")
    run = Command(folder / "story.db")
    with pytest.MonkeyPatch.context() as patch:
        for name in (USER, PASSWORD):
            patch.delenv(name, raising=False)
        keyring.set_keyring(OwnKeyring())
        with radicale(_made(folder / "server")) as port, gated(port) as (gate, url):
            calendar = Calendar(gate, f"{url}{uuid4()}/")
            yield _told(run, folder, calendar)


def _made(folder: Path) -> Path:
    folder.mkdir()
    return folder


def _told(run: Command, folder: Path, calendar: Calendar) -> Story:
    assert run("demo", now=MORNING).status == 0
    story = Story([], [], [], [])
    _plan_and_publish(run, calendar, story, MORNING)
    shop = folder / "shop.yaml"
    shop.write_text(changed_sample(), "utf-8")
    applied = run("apply", str(shop), now=NOON)
    assert applied.status == 0, applied.err
    _plan_and_publish(run, calendar, story, NOON)
    _publish(run, calendar, story, NOON)
    return story


def _plan_and_publish(run: Command, calendar: Calendar, story: Story, now: str) -> None:
    planned = run("plan", Q1, "--save", "--json", now=now)
    assert planned.status == 0, planned.err
    story.plans.append(json.loads(planned.out))
    _publish(run, calendar, story, now)
    story.parts.append(calendar.parts())


def _publish(run: Command, calendar: Calendar, story: Story, now: str) -> None:
    told: Told = run("publish", Q1, "--no-daily", "--url", calendar.straight, now=now)
    assert told.status == 0, told.err
    story.told.append(told.out)
    versions = calendar.etags()
    story.versions.append({path: versions[path] for path in versions if path.endswith(".ics")})


def test_the_first_plan_stands_in_a_new_calendar(story: Story) -> None:
    count = len(story.parts[0])
    assert story.told[0] == f"a new calendar; {count} added, 0 changed, 0 as they were\n"
    assert {int(event["SEQUENCE"]) for event in story.parts[0].values()} == {0}
    days = {event["DTSTART"].dt.isoformat() for event in story.parts[0].values()}
    assert days <= {job["day"] for job in story.plans[0]["jobs"]}
    assert {visit["day"] for visit in story.plans[0]["visits"]} <= days


@pytest.mark.parametrize("step", [0, 1])
def test_each_visit_is_one_event_that_lists_its_jobs(story: Story, step: int) -> None:
    visits = story.plans[step]["visits"]
    assert len(visits) >= 8
    for visit in visits:
        listed = [
            event
            for event in story.parts[step].values()
            if all(f"- {task}: " in str(event["DESCRIPTION"]) for task in visit["tasks"])
            and str(event["DESCRIPTION"]).startswith("Visit of ")
            and str(event["STATUS"]) == "CONFIRMED"
        ]
        assert visit["day"] in {event["DTSTART"].dt.isoformat() for event in listed}


def test_a_visit_moves_off_the_day_that_was_closed_and_takes_a_new_job_along(story: Story) -> None:
    ((uid, before),) = story.entries(0, "Outside press and brake service").items()
    assert before["DTSTART"].dt == date(2027, 1, 28)
    after = story.parts[1][uid]
    assert after["DTSTART"].dt != date(2027, 1, 28)
    assert int(after["SEQUENCE"]) == 1
    assert str(after["STATUS"]) == "CONFIRMED"
    assert "- PB-1/half-year: " in str(after["DESCRIPTION"])
    assert "- SH-1/light-curtain: " in str(after["DESCRIPTION"])
    assert "- SH-1/light-curtain: " not in str(before["DESCRIPTION"])
    assert after["DTSTART"].dt.isoformat() in {
        visit["day"] for visit in story.plans[1]["visits"] if visit["crew"] == "press-service"
    }


def test_nothing_stands_on_the_closed_day_any_more(story: Story) -> None:
    closed = date(2027, 1, 28)
    assert [e for e in story.parts[0].values() if e["DTSTART"].dt == closed]
    assert [
        str(event["SUMMARY"])
        for event in story.parts[1].values()
        if event["DTSTART"].dt == closed and str(event["STATUS"]) == "CONFIRMED"
    ] == []


def test_a_longer_interval_cancels_and_a_shorter_one_adds(story: Story) -> None:
    quarter = "DC-2: "
    gone = {
        uid: event
        for uid, event in story.entries(1, quarter).items()
        if str(event["STATUS"]) == "CANCELLED"
    }
    assert len(gone) == 1
    ((uid, event),) = gone.items()
    assert str(event["SUMMARY"]).startswith("Cancelled: DC-2: ")
    assert int(event["SEQUENCE"]) == int(story.parts[0][uid]["SEQUENCE"]) + 1
    battery = "LT-1: Battery watered"
    before, after = story.entries(0, battery), story.entries(1, battery)
    assert before.keys() < after.keys()
    assert {int(after[uid]["SEQUENCE"]) for uid in after.keys() - before.keys()} == {0}


def test_sequence_rises_for_what_moved_and_for_nothing_else(story: Story) -> None:
    first, second = story.parts[:2]
    assert first.keys() < second.keys()
    for uid, before in first.items():
        after = second[uid]
        stands = [(e["DTSTART"].dt, str(e["STATUS"])) for e in (before, after)]
        assert int(after["SEQUENCE"]) == int(before["SEQUENCE"]) + (stands[0] != stands[1])


def test_the_calendar_says_what_the_plan_says(story: Story) -> None:
    """The crew's jobs day by day, apart from the daily ones; what fell away is cancelled."""
    confirmed = {
        (str(event["SUMMARY"]), event["DTSTART"].dt.isoformat())
        for event in story.parts[1].values()
        if str(event["STATUS"]) == "CONFIRMED" and "In-house" in event["CATEGORIES"].cats
    }
    planned = {
        (f"{job['machine']}: {job['title']}", job["day"])
        for job in story.plans[1]["jobs"]
        if job["visit"] is None
    }
    assert confirmed <= planned
    assert {title for title, _ in confirmed} >= {"DC-1: Ducts, spark detector and fire damper"}


def test_only_what_differs_is_put(story: Story) -> None:
    first, second = story.versions[:2]
    touched = {path for path, version in second.items() if first.get(path) != version}
    added = len(second) - len(first)
    changed = len(touched) - added
    same = len(second) - len(touched)
    assert story.told[1] == f"{added} added, {changed} changed, {same} as they were\n"
    assert 0 < len(touched) < len(second) / 2


def test_publishing_once_more_changes_nothing(story: Story) -> None:
    count = len(story.parts[1])
    assert story.told[2] == f"0 added, 0 changed, {count} as they were\n"
    assert story.versions[2] == story.versions[1]
