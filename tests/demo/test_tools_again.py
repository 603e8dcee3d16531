"""All tools of the demo year worked out a second time, from the entries as they are listed."""

from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import yaml

from tests.command import Command
from tests.demo.conftest import SAMPLE, Demo
from tests.oracle.shop import Plain, differences, world_on
from tests.oracle.wear import all_tools, tool_row, unallocated

OF_TOOLS = {"TP-1", "PB-1", "LC-1"}  # the machines that have tools
FAR = "2032"  # days are counted one by one, so only those before it are counted again
LATER, EARLIER = date(2026, 11, 24), date(2026, 7, 22)


def told_plainly(value: Any) -> Any:
    """The file with the key `on` as text, whatever YAML 1.1 thinks of it."""
    if isinstance(value, dict):
        return {"on" if k is True else k: told_plainly(v) for k, v in value.items()}
    return [told_plainly(item) for item in value] if isinstance(value, list) else value


def facts_of(entries: list[Plain], zone: ZoneInfo) -> list[Plain]:
    """What bears on tools, from `entries --json`."""
    found: list[Plain] = [{"kind": "applied", "at": "2025-11-25"}]
    for entry in entries:
        if entry["voided"] or entry.get("machine") not in {*OF_TOOLS, None}:
            continue
        at = datetime.fromisoformat(entry["at"]).replace(tzinfo=UTC).astimezone(zone)
        local = at.replace(tzinfo=None).isoformat()
        if entry["kind"] == "shift":
            found.append({**entry, "date": entry["day"]})
        elif entry["kind"] in ("tool-event", "tool-count", "idle", "back"):
            found.append({k: v for k, v in {**entry, "at": local}.items() if v is not None})
        for meter, reading in entry.get("dials", {}).items():
            marks = {mark: meter in entry[mark] for mark in ("wrapped", "exchanged")}
            dial = {"kind": "dial", "machine": entry["machine"], "at": local}
            found.append({**dial, **marks, "readings": {meter: reading}})
    return found


def last_day(row: Plain) -> str:
    """The last of a tool's expected days, as the command tells it."""
    ends = row["end_of_life"] if row["sharpenings_left"] is not None else row["sharpen_on"]
    return str(ends or "9999")


def in_need(row: Plain, tool: Plain, on: date) -> bool:
    """Whether a tool is to be sharpened or replaced, now or soon, or to be ordered now.

    While it is fresh, at an interval a week what is left of it must end within the notice.
    """
    if row["state"] in ("overdue", "due", "soon"):
        return True
    if row["order_by"] is None or row["order_by"] > str(on):
        return False
    notice = int(str(tool["replace_notice"]).split()[0])
    return bool(row["used"] >= 0.5 or 7 * (row["sharpenings_left"] + 0.5) <= notice)


@pytest.fixture(scope="module")
def asked(whole: Demo) -> tuple[Command, Plain, list[Plain]]:
    """The command line on the demo, the shop file as it stands, and the facts."""
    run = Command(whole.store.path)
    shop = told_plainly(yaml.safe_load(SAMPLE.read_text("utf-8")))
    return run, shop, facts_of(run.json("entries"), whole.shop.zone)


@pytest.mark.parametrize("on", [LATER, EARLIER])
def test_the_list_of_tools_equals_its_slow_recomputation(
    asked: tuple[Command, Plain, list[Plain]], on: date
) -> None:
    run, shop, facts = asked
    rows = run.json("tooling", "--on", str(on))
    world = world_on(shop, facts, on)
    near = {row["tool"] for row in rows if last_day(row) < FAR}
    again = [tool_row(world, tool, tool["code"] in near) for tool in all_tools(shop)]
    assert len(rows) >= 60
    assert len(near) >= 15
    assert differences(rows, again, "tool") == []
    listed = [
        row for row, tool in zip(rows, all_tools(shop), strict=True) if in_need(row, tool, on)
    ]
    assert run.json("today", "--on", str(on))["tools"] == listed != []
    told = run.json("tooling", "--unallocated", "--on", str(on))
    assert differences(told, unallocated(shop, facts, on), "machine") == []


def test_every_tool_is_explained_to_the_last_hit(
    asked: tuple[Command, Plain, list[Plain]], whole: Demo
) -> None:
    run, _, _ = asked
    rows = {row["tool"]: row for row in run.json("tooling")}
    for tool in [tool for tool in whole.shop.tools if tool.counts or tool.code in _EXPLAINED]:
        told = run.json("why", tool.code)
        shares = [share["wear"] for share in told["shares"]]
        assert sum(shares) == pytest.approx(rows[tool.code]["wear_hits"], abs=1e-6), tool.code
        assert {key: told[key] for key in rows[tool.code]} == rows[tool.code]
        assert told["cautions"]


_EXPLAINED = {"RD-6.5", "RD-6.5.die", "RE-50X5", "RE-50X5.die", "SQ-10.die", "LV-60", "KO-22"}
