"""Is a machine getting worse? On published failures, on a small shop and on the demo."""

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.build import reference
from tests.command import Command, assert_fits

SHOP = """\
shop:
  name: Quillback Sheet Works
  timezone: UTC
  shifts: [{name: day, days: mon-sun, start: "06:00", end: "16:00"}]
  crew_rate: 50
machines:
  - {code: BETTER, name: Press after its overhaul, hourly_rate: 100}
  - {code: WORSE, name: Old press, hourly_rate: 100}
  - {code: TWO, name: Brake}
  - {code: NONE, name: Shear}
tasks:
  - {code: year, machines: [BETTER, WORSE, TWO, NONE], title: Service, every: 1 year, minutes: 60}
"""
FIRST = datetime.fromisoformat("2026-01-01T06:00")  # shop time
BEGAN, NOW = "2026-01-01T05:00", "2026-05-30T20:00"  # 150 days of 10 h, and one day's end
END = 1500


def hours_of(name: str) -> list[float]:
    """The ages of the published failures."""
    return [float(row["failure_h"]) for row in reference(name)]


def stops(machine: str, ages: list[float]) -> list[str]:
    """Stops that take no scheduled time worth a thought: a second each."""
    rows = []
    for age in ages:
        days, hours = divmod(age, 10)
        start = FIRST + timedelta(days=days, hours=hours)
        end = start + timedelta(seconds=1)
        rows.append(f"{machine},{start.isoformat()},{end.isoformat()},leak,no,Dana")
    return rows


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Command:
    """The command line on a shop whose presses fail at published ages; only looked at.

    BETTER: NIST/SEMATECH e-Handbook, chapter 8, case study 1, 1500 h. WORSE: the same, mirrored.
    """
    folder = tmp_path_factory.mktemp("trend")
    ages = hours_of("nist-improvement-test.csv")
    rows = [
        "machine,from,to,cause,planned,by",
        *stops("BETTER", ages),
        *stops("WORSE", [END - age for age in reversed(ages)]),
        *stops("TWO", [100, 700]),
    ]
    return _made(folder, rows)


def _made(folder: Path, rows: list[str], began: str = BEGAN) -> Command:
    """The command line on the shop with these stops, applied at that time."""
    (folder / "shop.yaml").write_text(SHOP, "utf-8")
    (folder / "stops.csv").write_text("\n".join(rows), "utf-8")
    made = Command(folder / "pmtrack.db")
    for told in (
        made("apply", str(folder / "shop.yaml"), now=began),
        made("import", "stops", str(folder / "stops.csv"), now=NOW),
    ):
        assert told.status == 0, told.err
    return made


@pytest.fixture(scope="module")
def machines(run: Command) -> dict[str, Any]:
    """Each machine's trend."""
    return {row["machine"]: row for row in run.json("trend", now=NOW)}


def test_the_worst_comes_first(run: Command) -> None:
    told = run.json("trend", now=NOW)
    assert [row["machine"] for row in told] == ["WORSE", "BETTER", "TWO", "NONE"]


def test_published_failures_give_the_published_tests_and_fit(machines: dict[str, Any]) -> None:
    """NIST/SEMATECH e-Handbook 8.2.3.4 and 8.4.5.2 (numbers recomputed): Laplace -1.327, Military
    Handbook 37.23, MTBF at the end 279 h by maximum likelihood and 310 h by the modified one."""
    row = machines["BETTER"]
    assert row["operating_hours"] == pytest.approx(END, abs=0.01)
    assert row["failure_hours"] == pytest.approx(hours_of("nist-improvement-test.csv"), abs=0.01)
    assert row["laplace"]["statistic"] == pytest.approx(-1.32695, abs=1e-4)
    assert row["military_handbook"]["statistic"] == pytest.approx(37.2281, abs=1e-2)
    assert row["military_handbook"]["chance"] == pytest.approx(2 * 0.01099, abs=1e-4)
    assert row["slope"]["value"] == pytest.approx(0.5372289, abs=1e-4)
    assert row["mtbf_now_hours"]["value"] == pytest.approx(279.21, abs=0.05)
    assert row["mtbf_now_modified"] == pytest.approx(310.234, abs=0.05)


def test_the_verdicts_are_plain_words(machines: dict[str, Any]) -> None:
    assert {code: row["verdict"] for code, row in machines.items()} == {
        "WORSE": "no trend seen",
        "BETTER": "getting better",
        "TWO": "too few failures: 2, at least 4 needed",
        "NONE": "too few failures: 0, at least 4 needed",
    }


def test_too_few_failures_give_no_numbers(machines: dict[str, Any]) -> None:
    row = machines["TWO"]
    assert (row["slope"], row["mtbf_now_hours"], row["mtbf_now_modified"]) == (None, None, None)
    assert row["laplace"] == {"statistic": None, "chance": None, "verdict": "too few"}


def test_a_machine_in_full(run: Command) -> None:
    told = run.done("trend", "BETTER", now=NOW)
    for line in (
        "BETTER  Press after its overhaul: getting better",
        "10 failures in 1,500 operating hours, 2026-01-01 to 2026-05-30",
        "Failures come less and less often.",
        "chance 2.2 %",
    ):
        assert line in told
    few = run.done("trend", "TWO", now=NOW)
    assert "TWO  Brake: too few failures: 2, at least 4 needed" in few
    assert "2 failures tell no trend; at least 4 are needed" in few


def test_dates_bound_the_failures(run: Command) -> None:
    # the first 40 days: 5, 40, 43, 175 and 389 h of 400 h
    (row,) = run.json("trend", "BETTER", "--from", "2026-01-01", "--to", "2026-02-09", now=NOW)
    assert (row["from"], row["to"], row["failures"]) == ("2026-01-01", "2026-02-09", 5)
    assert row["operating_hours"] == pytest.approx(400, abs=0.01)
    (as_of,) = run.json("trend", "BETTER", "--on", "2026-02-09", now=NOW)
    assert (as_of["to"], as_of["failures"]) == ("2026-02-09", 5)
    (later,) = run.json("trend", "BETTER", "--from", "2026-02-10", now=NOW)
    assert later["failures"] == 5
    assert later["failure_hours"][0] == pytest.approx(712 - 400, abs=0.01)


def test_stops_from_before_the_first_day_count_from_the_first_that_is_known(
    tmp_path: Path,
) -> None:
    """Brought in from a book: as of the shop's first stop, for machines that are in the book."""
    rows = ["machine,from,to,cause,planned,by", *stops("TWO", [15]), *stops("WORSE", [300, 400])]
    run = _made(tmp_path, rows, "2026-03-01T05:00")
    began = {row["machine"]: row["from"] for row in run.json("trend", now=NOW)}
    assert began == {
        "TWO": "2026-01-02",
        "WORSE": "2026-01-02",
        "BETTER": "2026-03-01",
        "NONE": "2026-03-01",
    }


@pytest.mark.parametrize(
    ("arguments", "status", "message"),
    [
        (["trend", "XX-1"], 3, "no machine 'XX-1'; the shop has BETTER, WORSE, TWO, NONE"),
        (["trend", "--from", "2026-03-01", "--to", "2026-02-01"], 3, "before it begins"),
        (["trend", "--to", "2025-12-01"], 3, "before it begins on 2026-01-01"),
        (["trend", "--from", "soon"], 2, "soon"),
    ],
)
def test_what_cannot_be_answered(
    run: Command, arguments: list[str], status: int, message: str
) -> None:
    run.refused(arguments, status, message, now=NOW)


def test_dates_to_come_and_shops_without_history_have_no_trend(
    run: Command, tmp_path: Path, shop_store: Path
) -> None:
    (row,) = run.json("trend", "BETTER", "--from", "2027-01-01", "--to", "2027-02-01", now=NOW)
    assert (row["operating_hours"], row["failures"]) == (0, 0)
    told = Command(shop_store).done("trend")
    assert "too few failures, at least 4 needed: FE-1 0, PB-1 0, TP-1 0" in told


def test_it_fits_the_paper(run: Command) -> None:
    for line in ("trend", "trend WORSE", "trend TWO", "trend NONE"):
        assert_fits(run.done(*line.split(), now=NOW))


def test_a_machine_that_gets_worse_is_among_the_things_to_change(tmp_path: Path) -> None:
    """Twelve failures, half an hour each: by age t there are 12 (t / 1490)^3 of them."""
    rows = ["machine,from,to,cause,planned,by"]
    for number in range(12):
        days, hours = divmod(1490 * ((number + 1) / 12) ** 0.33, 10)
        start = FIRST + timedelta(days=days, minutes=int(60 * hours))
        end = start + timedelta(minutes=30)
        rows.append(f"WORSE,{start.isoformat()},{end.isoformat()},cause {number},no,Dana")
    run = _made(tmp_path, rows)
    (row,) = run.json("trend", "WORSE", now=NOW)
    assert row["verdict"] == "getting worse"
    (thing,) = run.json("advice", now=NOW)["three_things"]
    assert (thing["matter"], thing["evidence"]) == ("getting worse", "pmtrack trend WORSE")
    # each failure costs half an hour of 150; as many more a year as at the end against the mean
    extra = 1 / row["mtbf_now_hours"]["value"] - 12 / row["operating_hours"]
    a_year = row["operating_hours"] / 150 * 365.2425
    assert thing["saved_a_year"] == pytest.approx(extra * a_year * 75, rel=0.02)
