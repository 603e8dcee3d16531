"""Plans, tools, trends and advice as CSV files, by the command line."""

import csv
import io
from pathlib import Path

import pytest

from tests.command import Command
from tests.planned_shop import Q1, plan

LATER = "2026-12-16T08:00"


def rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text("utf-8"))))


def test_a_plan_as_a_table_has_a_row_for_each_job(saved: Command, tmp_path: Path) -> None:
    out = tmp_path / "plan.csv"
    told = saved("plan", Q1, "--csv", str(out))
    assert told.status == 0
    found = rows(out)
    assert f"{out}: {len(found)} rows" in told.out
    jobs = plan(saved)["jobs"]
    assert [(row["task"], row["day"]) for row in found] == [(j["task"], j["day"]) for j in jobs]


@pytest.mark.parametrize("words", [["tooling"], ["trend"], ["advice"]])
def test_other_tables_are_written_whole(saved: Command, tmp_path: Path, words: list[str]) -> None:
    out = tmp_path / "table.csv"
    assert saved(*words, "--csv", str(out), now=LATER).status == 0
    answer = saved(*words, "--json", now=LATER).json()
    items = answer["tasks"] if isinstance(answer, dict) else answer
    assert len(rows(out)) == len(items)


def test_a_table_never_takes_the_place_of_the_store(saved: Command) -> None:
    told = saved("trend", "--csv", str(saved.store), now=LATER)
    assert told.status == 3
    assert "this is the store" in told.err
