"""What a year of the demo advises, and its lives added up a second time, straight from the rows."""

from collections import Counter
from datetime import datetime

import pytest

from pmtrack.actions.tool_advice import FamilyLife, family_lives
from pmtrack.actions.view import View
from pmtrack.rules.shop import Tool
from tests.demo.conftest import Demo


@pytest.fixture(scope="module")
def found(whole: Demo) -> list[FamilyLife]:
    """The families of the demo's tools."""
    return family_lives(View(whole.store, whole.today))


def test_some_families_give_advice_and_some_say_too_few(found: list[FamilyLife]) -> None:
    advised = [told.family.name for told in found if told.whole.curve]
    silent = [told for told in found if told.whole.too_few]
    assert len(advised) >= 2
    assert "round punch" in advised
    assert len(silent) >= 10
    assert all(told.whole.failures < 3 for told in silent)
    assert all(told.whole.advice for told in found if told.whole.curve)


def test_every_burr_and_chip_since_a_known_beginning_is_a_failure(
    whole: Demo, found: list[FamilyLife]
) -> None:
    rows = whole.rows(
        "SELECT e.tool FROM tool_event e JOIN entry ON entry.id = e.entry"
        " WHERE e.why IN ('burr', 'chipped') AND EXISTS (SELECT 1 FROM tool_event f"
        " JOIN entry AS before ON before.id = f.entry WHERE f.tool = e.tool"
        " AND f.event IN ('sharpen', 'replace') AND before.at < entry.at)"
    )
    lives = [life for told in found for life in told.family.lives]
    failed = Counter(life.tool.code for life in lives if life.failed)
    assert failed == Counter(tool for (tool,) in rows)
    assert failed.total() >= 8


def test_lives_added_up_a_second_time(whole: Demo, found: list[FamilyLife]) -> None:
    """Punches alone: those that wear by a meter have no hits of programs."""
    punches = [tool for tool in whole.shop.tools if not (tool.counts or tool.die_of)]
    lives = [life for told in found for life in told.family.lives]
    for tool in punches:
        told = [float(life.wear) for life in lives if life.tool.code == tool.code]
        assert told == pytest.approx(added_up(whole, tool)), tool.code
    assert len(lives) > 100


def added_up(demo: Demo, tool: Tool) -> list[float]:
    """The wear of each life of a tool, from the rows of the store."""
    edges = [
        datetime.fromisoformat(at)
        for (at,) in demo.rows(
            "SELECT entry.at FROM tool_event e JOIN entry ON entry.id = e.entry WHERE e.tool = ?"
            " AND e.event IN ('sharpen', 'replace') ORDER BY entry.at",
            tool.code,
        )
    ]
    worn = hits(demo, tool)
    ends = [*edges[1:], datetime.fromisoformat("2099-01-01T00:00:00Z")]
    sums = [
        sum(hits for at, hits in worn if start < at <= end)
        for start, end in zip(edges, ends, strict=False)
    ]
    return [wear for wear in sums if wear]


def hits(demo: Demo, tool: Tool) -> list[tuple[datetime, float]]:
    """The wear hits of each row counted, and of each shift on a day without such a row."""
    counted = demo.rows(
        "SELECT entry.at, entry.day, c.hits / 1e6, c.material FROM tool_count c"
        " JOIN entry ON entry.id = c.entry WHERE c.tool = ?",
        tool.code,
    )
    factor = {m.code: float(m.wear * m.thickness) for m in demo.shop.materials}
    days = {day for _, day, _, _ in counted}
    found = [(at, n * factor.get(material, 1.0)) for at, _, n, material in counted]
    for program in demo.shop.programs:
        each = float(program.hits.get(tool.code, 0))
        rows = demo.rows(
            "SELECT entry.at, s.day, (coalesce(s.parts, 0) + coalesce(s.scrap, 0)) / 1e6,"
            " s.material FROM shift_log s JOIN entry ON entry.id = s.entry WHERE s.program = ?"
            " AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)",
            program.code,
        )
        found += [
            (at, parts * each * factor.get(material or program.material or "", 1.0))
            for at, day, parts, material in rows
            if each and day not in days
        ]
    return [(datetime.fromisoformat(at), n) for at, n in found]
