"""Whole shops through the command line, compared with the slow second reading in `oracle`."""

import contextlib
import csv
import io
import json
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.oracle.due import today
from tests.oracle.scenario import AMOUNTS, DAY, FIRST, Scenario, scenario
from tests.oracle.shop import Plain, differences
from tests.oracle.usage import usage
from tests.oracle.wear import tooling, unallocated

SEEDS = range(9)

# ---- the oracle itself, by hand -------------------------------------------------------------

HAND_SHOP = """
shop:
  {name: Hand shop, timezone: UTC, crew_hours: 6,
   shifts: [{name: day, days: mon-fri, start: "06:00", end: "14:30"}]}
machines:
  - {code: M, name: M, in_service: 2020-01-01,
     meters: {hits: {expected: 1000 per day, wraps_at: 10000}}}
materials: [{code: stainless, wear: 1.5}]
tooling:
  - {code: T, machine: M, kind: punch, size: 1 mm, sharpen_every: 1000, grind: 0.2,
     grindable: 0.6, replace_notice: 3 days}
programs: [{code: P, hits: {T: 3}}]
tasks: []
"""
JAN_5, JAN_6, JAN_7 = (FIRST + n * DAY for n in range(3))


def counts(*amounts: int, **more: Any) -> list[Plain]:
    """One count a day from Monday 5 January on."""
    shift = {"kind": "shift", "machine": "M", "shift": "day", **more}
    days = [FIRST + n * DAY for n in range(len(amounts))]
    rows = zip(days, amounts, strict=True)
    return [{**shift, "date": day, "counts": {"hits": n}} for day, n in rows]


def dial(day: date, hits: int, **mark: bool) -> Plain:
    """A reading at noon, before the day's shift ends."""
    return {
        "kind": "dial",
        "machine": "M",
        "at": f"{day}T12:00",
        "readings": {"hits": hits},
        **mark,
    }


APPLIED: Plain = {"kind": "applied", "at": "2026-01-02"}
TUESDAY = counts(0, 500)[1:]
DIALS = [dial(JAN_5, 10000), *TUESDAY, dial(JAN_7, 10700)]
SWAP = [dial(JAN_5, 9900), dial(JAN_6, 100, wrapped=True)]
SWAP += [dial(JAN_7, 5, exchanged=True), dial(JAN_7 + DAY, 25)]


@pytest.mark.parametrize(
    ("facts", "on", "expected"),
    [
        # u_0 = 0 on Friday 2 January; r = (5 x 1000 + 2000) / (5 + 2)
        (counts(1200, 800), JAN_6, {"usage": 2000, "rate": 1000, "estimate": None}),
        # Wednesday to Monday lie between: 7, 8, 9 and 12 January
        (counts(1200, 800), date(2026, 1, 13), {"estimate": 6000, "stale": True}),
        # the dial found 200 more than the count; u_0 is the first dial, so S = 700 in 2 days
        (DIALS, JAN_7, {"usage": 10700, "unlogged": 200, "rate": Fraction(5700, 7)}),
        # 9900 -> 10100 over the wrap; the exchange changes nothing; 20 on the new counter
        (SWAP, JAN_7 + DAY, {"usage": 10120, "unlogged": 0}),
        ([], JAN_6, {"usage": None, "rate": 1000, "stale": True, "last_entry": None}),
    ],
)
def test_oracle_agrees_with_usage_by_hand(facts: list[Plain], on: date, expected: Plain) -> None:
    [row] = usage(yaml.safe_load(HAND_SHOP), [APPLIED, *facts], on)
    assert {key: row[key] for key in expected} == expected


DIP = [*counts(1600, 1000), dial(FIRST - 3 * DAY, 0), dial(FIRST + 3 * DAY, 2400)]
DIP += counts(0, 0, 0, 0, 200)[4:]
MONTHLY = {"every": "1 month", "last_done": {"on": date(2026, 1, 31)}}
AT_2500 = {"every": "2500 hits", "last_done": {"on": date(2026, 1, 2)}}
MONDAYS = {"on": "FREQ=MONTHLY;BYDAY=1MO", "starts": FIRST}


@pytest.mark.parametrize(
    ("task", "facts", "on", "state", "due"),
    [
        # D Saturday 28 February, work_by Friday 27, L = 2, G = 2
        (MONTHLY, [], "2026-02-24", "ok", "2026-02-28"),
        (MONTHLY, [], "2026-02-25", "soon", "2026-02-28"),
        (MONTHLY, [], "2026-02-27", "due", "2026-02-28"),
        (MONTHLY, [], "2026-03-02", "due", "2026-02-28"),
        (MONTHLY, [], "2026-03-03", "overdue", "2026-02-28"),
        ({**MONTHLY, "authority": "a law"}, [], "2026-03-01", "overdue", "2026-02-28"),
        # 2000 of 2500 gone, r = 1000: half a day, so Wednesday
        (AT_2500, counts(1200, 800), "2026-01-06", "soon", "2026-01-07"),
        # Wednesday adds 1000: 3000 > 2500 + 250
        (AT_2500, counts(1200, 800), "2026-01-08", "overdue", "2026-01-07"),
        # 2600 on Tuesday, 2400 by the dial on Thursday, 2600 again on Friday: the last crossing
        (AT_2500, DIP, "2026-01-09", "due", "2026-01-09"),
        # 2 February opens on 31 January (gap 28 days, L = 2): done that day settles it
        (MONDAYS, ["2026-01-31"], "2026-01-31", "ok", "2026-03-02"),
        (MONDAYS, ["2026-01-30"], "2026-01-31", "soon", "2026-02-02"),
        # never done: from the day first applied, Friday 2 January
        ({"every": "1 week"}, [], "2026-01-02", "due", "2026-01-02"),
    ],
)
def test_oracle_agrees_with_due_days_by_hand(
    task: Plain, facts: list[Any], on: str, state: str, due: str
) -> None:
    shop = yaml.safe_load(HAND_SHOP)
    shop["tasks"] = [{"code": "t", "title": "T", "machines": ["M"], **task}]
    done = [{"kind": "completion", "task": "M/t", "at": at} for at in facts if isinstance(at, str)]
    logged = [fact for fact in facts if not isinstance(fact, str)]
    [line] = today(shop, [APPLIED, *done, *logged], date.fromisoformat(on))
    assert (line["state"], str(line["due_on"])) == (state, due)


def test_oracle_agrees_with_tool_wear_by_hand() -> None:
    """Parts 100 + 100 x 3 hits, the second lot x 1.5: 300 + 450; 375 a day, so Wednesday."""
    facts = counts(1, 1, program="P", parts=90, scrap=10)
    facts[1]["material"] = "stainless"
    [row] = tooling(yaml.safe_load(HAND_SHOP), [APPLIED, *facts], JAN_6)
    assert (row["wear_hits"], row["sharpen_on"], row["sharpenings_left"]) == (750, JAN_7, 3)
    # (3 + 1) x 1000 - 750 = 3250 = 8.67 days of 375: nine working days after Tuesday
    assert (row["end_of_life"], row["order_by"]) == (date(2026, 1, 19), date(2026, 1, 16))


# ---- the same shop through the command line -------------------------------------------------

MARKS = {"wrapped", "exchanged"}
FILES = {
    "shift": "shifts",
    "dial": "dials",
    "completion": "completions",
    "tool-event": "tool-events",
    "tool-count": "tool-counts",
    "stop": "stops",
}
NO_COLUMN = {"kind", "id", "counts", "readings"}
TURNS = [-8, -7, -4, -3, -1, 0, 1, 3, 4, 14, 15]  # days from D
CAPS = [-8, -7, 14, 15]  # where the longest lead and grace begin and end
LISTED = ["overdue", "due", "soon"]


def run(args: list[str]) -> tuple[int, str, str]:
    """One command in this process: exit status, standard output, standard error."""
    from pmtrack.cli import main

    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = main(args)
    return status, out.getvalue(), err.getvalue()


class Store:
    """A store in a folder of its own, asked at one time."""

    def __init__(self, folder: Path, now: str) -> None:
        self.folder, self.now = folder, now

    def does(self, *args: str, now: str | None = None) -> str:
        """Standard output of a command that has to be accepted."""
        store = ["--store", str(self.folder / "shop.db"), "--now", now or self.now]
        status, out, err = run([*store, *args])
        assert status == 0, f"{args} in {self.folder}: exit {status}\n{err}{out}"
        return out

    def applies(self, shop: Plain, now: str) -> None:
        """Write the shop file and apply it."""
        path = self.folder / "shop.yaml"
        text = yaml.safe_dump(shop, sort_keys=False)
        assert yaml.safe_load(text) == shop, "the file does not say what the oracle is told"
        path.write_text(text, encoding="utf-8")
        self.does("apply", str(path), now=now)

    def imports(self, kind: str, facts: list[Plain]) -> None:
        """Write the facts of one kind as CSV, recorded by their ids, and import them."""
        rows = [csv_row(fact) for fact in facts]
        path = self.folder / f"{kind}.csv"
        with path.open("w", encoding="utf-8", newline="") as file:
            names = list(dict.fromkeys(name for row in rows for name in row))
            writer = csv.DictWriter(file, names)
            writer.writeheader()
            writer.writerows(rows)
        if rows:
            self.does("import", kind, str(path))


def csv_row(fact: Plain) -> dict[str, str]:
    """A fact as a row of text, marks as `yes`."""
    columns = {key: value for key, value in fact.items() if key not in NO_COLUMN}
    columns |= fact.get("counts", {}) | fact.get("readings", {}) | {"by": fact["id"]}
    texts = {key: "yes" if value is True else str(value) for key, value in columns.items()}
    return {key: text for key, text in texts.items() if text != "None"}


def decide(made: Scenario) -> None:
    """Jobs put off, entries crossed out where no marked dial leans on them, a task retired."""
    rng, days = made.rng, (made.now.date() - FIRST).days
    for task in made.shop["tasks"]:
        for machine in task["machines"]:
            for _ in range(rng.choice([0, 0, 1, 2]) if "authority" not in task else 0):
                day = FIRST + rng.randint(1, days - 1) * DAY
                until, at = str(day + rng.randint(0, 25) * DAY), made.moment(day, 18)
                made.add("defer", task=f"{machine}/{task['code']}", at=at, until=until)
    marked = {(f["machine"], *f["readings"]) for f in made.facts if MARKS & set(f)}
    for fact in list(made.facts):
        code = fact.get("machine") or fact.get("task", "").split("/")[0]
        leaned_on = any((code, name) in marked for name in fact.get("readings", {}))
        if fact["kind"] in ("shift", "dial", "completion") and not leaned_on and made.chance(0.04):
            made.add("void", of=fact["id"], at=str(made.now.date()))
    last = made.shop["tasks"][-1]
    if made.chance(0.3) and "covers" not in last:
        for machine in last["machines"]:
            made.add("retired", task=f"{machine}/{last['code']}", at=str(made.now.date()))


def record(made: Scenario, store: Store) -> None:
    """Everything that happened, through the commands."""
    [applied] = [fact for fact in made.facts if fact["kind"] == "applied"]
    store.applies(made.shop, applied["at"] + "T05:00")
    for kind, name in FILES.items():
        store.imports(name, [fact for fact in made.facts if fact["kind"] == kind])
    for fact in sorted((f for f in made.facts if f["kind"] not in FILES), key=lambda f: f["at"]):
        who = ["--by", fact["id"], "--at", fact["at"]]
        if fact["kind"] in ("idle", "back"):
            why = ["--why", "rebuilt"] if fact["kind"] == "idle" else []
            store.does(fact["kind"], fact["machine"], *why, *who)
        elif fact["kind"] == "defer":
            store.does("defer", fact["task"], "--until", fact["until"], "--why", "parts", *who)
        elif fact["kind"] == "void":
            for entry in json.loads(store.does("entries", "--json")):
                if entry["by"] == fact["of"]:
                    store.does("void", str(entry["entry"]), "--why", "slip", "--by", "Foreman")
    if any(fact["kind"] == "retired" for fact in made.facts):
        store.applies({**made.shop, "tasks": made.shop["tasks"][:-1]}, store.now)


def rank(item: Plain) -> tuple[int, bool, bool, float]:
    """Where a job belongs in the list."""
    nothing_used = item["used"] is None
    much = item["days_past_due"] if nothing_used else item["used"]
    return LISTED.index(item["state"]), item["authority"] is None, nothing_used, -much


def asked_days(made: Scenario) -> list[date]:
    """Today, a week and a half back, and days on which a job is likely to change its state."""
    now, rng = made.now.date(), made.rng
    items = [item for item in today(made.shop, made.facts, now) if item["due_on"]]
    by_count = [item for item in items if set(item["governs"].split()) & set(AMOUNTS)]
    long = [item for item in items if item["governs"] in ("6 months", "1 year")]
    days = [now, now - 10 * DAY]
    for some, turns in [(items, TURNS)] * 3 + [(long, CAPS)] * 2 + [(by_count, TURNS)] * 2:
        due = rng.choice([item["due_on"] for item in some] or [now])
        days.append(max(due + rng.choice(turns) * DAY, FIRST))
    return days


@pytest.mark.parametrize("seed", SEEDS)
def test_command_line_agrees_with_the_oracle(seed: int, tmp_path: Path) -> None:
    made = scenario(seed)
    decide(made)
    store = Store(tmp_path, made.now.strftime("%Y-%m-%dT%H:%M"))
    record(made, store)
    found = []
    for place, on in enumerate(asked_days(made)):
        said = json.loads(store.does("today", "--all", "--json", "--on", str(on)))
        problems = differences(said["items"], today(made.shop, made.facts, on), "task")
        order = [rank(item) for item in said["items"] if item["state"] in LISTED]
        problems += [] if order == sorted(order) else [f"order {order}"]
        problems += [] if said["on"] == str(on) else [f"on {said['on']}"]
        if place < 3:
            rows = json.loads(store.does("usage", "--json", "--on", str(on)))
            problems += differences(rows, usage(made.shop, made.facts, on), "machine", "meter")
            rows = json.loads(store.does("tooling", "--json", "--on", str(on)))
            problems += differences(rows, tooling(made.shop, made.facts, on), "tool")
            rows = json.loads(store.does("tooling", "--unallocated", "--json", "--on", str(on)))
            expected = unallocated(made.shop, made.facts, on)
            problems += differences(rows, expected, "machine")
        found += [f"on {on}: {problem}" for problem in problems]
    assert not found, f"seed {seed}, {tmp_path}:\n" + "\n".join(found)
