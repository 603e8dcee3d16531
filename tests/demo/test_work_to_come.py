"""Work to come on the demo shop, against the shop file and the tools' wear added up anew."""

from datetime import timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from pmtrack.actions.planned_jobs import tools_by_jobs
from pmtrack.actions.run_ahead import Job, prepare
from pmtrack.actions.tooling import tool_list
from pmtrack.actions.view import View
from tests.command import Command, assert_fits
from tests.demo.conftest import Demo


@pytest.fixture
def view(whole: Demo) -> View:
    """The demo shop today."""
    return View(whole.store, whole.today)


def fits(parts: int, each: Fraction, worn: Fraction, every: Fraction) -> bool:
    """Whether so many parts are made within a tool's interval."""
    return worn + parts * each <= every


def test_every_program_is_looked_at_part_by_part(whole: Demo, view: View) -> None:
    wears = {wear.tool.code: wear for wear in tool_list(view)}
    factors = {material.code: material.factor for material in whole.shop.materials}
    seen = 0
    for program in whole.shop.programs:
        run = prepare(view, Job(program.code, 2000), whole.now).run
        punches = [tool for tool in run.tools if not tool.wear.tool.die_of]
        assert {tool.code: tool.hits_per_part for tool in punches} == program.hits
        assert run.hits == 2000 * sum(program.hits.values())
        assert run.press_seconds == run.hits / 2  # 120 a minute
        for tool in run.tools:
            each = tool.hits_per_part * factors[program.material or ""]
            standing = wears[tool.code].wear_hits, tool.wear.tool.sharpen_every
            last = next((n for n in range(2001, 0, -1) if fits(n, each, *standing)), 0)
            assert tool.runs_out_at == (None if last >= 2000 else last + 1), tool.code
            seen += tool.runs_out_at is not None
    assert seen > 5  # a tool that does not last is no rarity in runs of that length


def test_four_weeks_of_jobs_against_a_plain_sum(whole: Demo, view: View) -> None:
    codes = [program.code for program in whole.shop.programs]
    days = [whole.today + timedelta(days=n) for n in range(28)]
    rows = [(day, codes[n % len(codes)], 600 + 7 * n) for n, day in enumerate(days)]
    data = "date,program,parts\n" + "".join(f"{d},{code},{n}\n" for d, code, n in rows)
    factors = {material.code: material.factor for material in whole.shop.materials}
    programs = {program.code: program for program in whole.shop.programs}

    told = tools_by_jobs(view, "jobs.csv", data.encode())
    reached = 0
    for before, found in zip(tool_list(view), told.tools, strict=True):
        if found.added is None:
            continue
        code, total, day = before.tool.die_of or before.tool.code, before.wear_hits, None
        for on, program, parts in rows:
            each = programs[program].hits.get(code, 0)
            total += parts * each * factors[programs[program].material or ""]
            if day is None and total >= before.tool.sharpen_every > before.wear_hits:
                day = on
        assert found.added == total - before.wear_hits
        if before.wear_hits < before.tool.sharpen_every:
            assert found.wear.sharpen_on == day, code
        reached += day is not None
    assert reached > 3


def test_on_the_screen_it_fits_eighty_columns(whole: Demo, tmp_path: Path) -> None:
    (file,) = [row[2] for row in whole.rows("PRAGMA database_list") if row[1] == "main"]
    now = whole.now.astimezone(whole.shop.zone).strftime("%Y-%m-%dT%H:%M")
    run = Command(Path(file))
    for program in whole.shop.programs:
        assert_fits(run.done("setup", program.code, "--parts", "2000", now=now))
    jobs = tmp_path / "jobs.csv"
    jobs.write_text(f"date,program,parts\n{whole.today},KIOSK-DOOR,2000\n", "utf-8")
    assert_fits(run.done("tooling", "--jobs", str(jobs), now=now))
