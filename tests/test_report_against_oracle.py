"""Hours and failures of reports through the command line, compared with the oracle's reading."""

import json
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
import yaml

from tests.oracle.report import report
from tests.oracle.scenario import DAY, FIRST, Scenario, scenario
from tests.oracle.shop import Plain, differences
from tests.test_against_oracle import APPLIED, HAND_SHOP, SEEDS, Store, record


def add_stops(made: Scenario) -> None:
    """Stops of up to two days and a half, which may overlap; a few machines come later."""
    rng, days = made.rng, (made.now.date() - FIRST).days
    for machine in made.shop["machines"]:
        if made.chance(0.5):
            machine["in_service"] = FIRST + rng.randint(1, days) * DAY
        for _ in range(rng.randint(0, 12)):
            start = datetime.fromisoformat(made.moment(FIRST + rng.randint(0, days - 1) * DAY, 7))
            end = start + timedelta(minutes=rng.choice([7, 60, 300, 1500, 3600]))
            until = None if made.chance(0.1) else f"{end:%Y-%m-%dT%H:%M}"
            columns = {"cause": "jam", "planned": rng.choice(["yes", "no", "no"]), "to": until}
            if end < made.now:
                at = f"{start:%Y-%m-%dT%H:%M}"
                made.add("stop", machine=machine["code"], **{"from": at}, **columns)


@pytest.mark.parametrize(
    ("moves", "stops", "expected"),
    [
        # Monday 5 to Friday 9 January, 8.5 h each
        ([], [], (42.5, 0, 0, 0)),
        # out on Tuesday at noon, back on Thursday: two days out
        ([("idle", "06T12:00"), ("back", "08T07:00")], [], (25.5, 17, 0, 0)),
        # a stop from Monday 12:30 on: 2 h of Monday, none of the days out, 8.5 h each after them
        ([("idle", "06T12:00"), ("back", "08T07:00")], ["05T12:30"], (25.5, 17, 19, 1)),
        ([("idle", "06T12:00")], ["07T08:00"], (8.5, 34, 0, 1)),
    ],
)
def test_oracle_agrees_with_hours_by_hand(
    moves: list[tuple[str, str]], stops: list[str], expected: tuple[float, ...]
) -> None:
    facts: list[Plain] = [APPLIED]
    facts += [{"kind": kind, "machine": "M", "at": f"2026-01-{at}"} for kind, at in moves]
    facts += [
        {"kind": "stop", "machine": "M", "from": f"2026-01-{at}", "to": None, "planned": "no"}
        for at in stops
    ]
    friday, now = date(2026, 1, 9), "2026-01-12T08:00"
    [row] = report(yaml.safe_load(HAND_SHOP), facts, (FIRST, friday), friday, now)
    names = ("scheduled_hours", "out_of_service_hours", "unplanned_hours", "unplanned_stops")
    assert tuple(row[name] for name in names) == expected


@pytest.mark.parametrize("seed", SEEDS)
def test_reports_agree_with_the_oracle(seed: int, tmp_path: Path) -> None:
    made = scenario(seed)
    add_stops(made)
    made.facts = [
        f for f in made.facts if f["kind"] in ("applied", "idle", "back", "shift", "stop")
    ]
    now = made.now.strftime("%Y-%m-%dT%H:%M")
    store, found = Store(tmp_path, now), []
    record(made, store)
    days = [FIRST + n * DAY for n in range((made.now.date() - FIRST).days + 1)]
    for turn in range(3):
        first, last = sorted(made.rng.choices(days, k=2))
        on = made.rng.choice([days[-1], last, days[len(days) // 2]])
        if turn == 0:
            last = on = days[-1]  # at noon: a shift may run
        asked = ["--from", str(first), "--to", str(last), "--on", str(on), "--json"]
        said = json.loads(store.does("report", *asked))["machines"]
        expected = report(made.shop, made.facts, (first, last), on, now)
        hidden = {row["machine"] for row in expected} - {row["machine"] for row in said}
        assert all(not row["scheduled_hours"] for row in expected if row["machine"] in hidden)
        shown = [row for row in expected if row["machine"] not in hidden]
        problems = differences(said, shown, "machine")
        run = [{key: row[key] for key in ("machine", "operating_hours")} for row in expected]
        problems += differences(json.loads(store.does("trend", *asked)), run, "machine")
        found += [f"{first} to {last} on {on}: {problem}" for problem in problems]
    assert not found, f"seed {seed}, {tmp_path}:\n" + "\n".join(found)
