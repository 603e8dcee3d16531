"""The report by kind, cause and span, beside the period before, and as rows for a spreadsheet.

Monday 23 to Wednesday 25 November 2026, with the Friday before in the period before (20 to 22
November). A night shift of TP-1 begins on each of the three days.

TP-1, kind punching, 80 an hour: S = 3 x (8.5 + 8) = 49.5; planned Monday 12:00 to 14:30, P = 2.5;
leak on Tuesday 09:00 to 10:30 and 14:00 to 22:30 (0.5 h of the day and 0.5 h of the night shift
scheduled), X = 2.5, n = 2; T = 44.5. Hits 66,750, 1,500 an hour run, so 3,750 lost to either; parts
445, 10 an hour run, 25 lost to either; scrap 5 of 450; money 200 and 200.
PB-1, kind bending, no rate: S = 49.5; gauge on Wednesday 13:00 to 14:00, X = 1, n = 1; T = 48.5;
parts 97, 2 an hour run, 2 lost.
Friday: S = 8.5 each; TP-1 leak 08:00 to 09:00, X = 1; 7,500 hits, 75 parts.

Work, at 40 an hour: TP-1 weekly on Tuesday, 30 minutes, 20; half-year on Wednesday by the firm, 7 h
planned, a call-out of 450; PB-1 weekly on Monday, 20 minutes planned, 40 / 3.
"""

import csv
import io
from pathlib import Path
from typing import Any

import pytest

from tests.command import SMALL_SHOP, Command, assert_fits, dump, trimmed

HISTORY = [
    "log TP-1 --shift day --date 2026-11-20 --hits 7500 --parts 75",
    "stop TP-1 --cause leak --from 2026-11-20T08:00 --to 2026-11-20T09:00",
    "log TP-1 --shift day --date 2026-11-23 --hits 40000 --parts 400 --scrap 5",
    "log TP-1 --shift night --date 2026-11-25 --hits 26750 --parts 45",
    "log PB-1 --shift day --date 2026-11-24 --count cycles=500 --parts 97",
    "stop TP-1 --cause service --planned --from 2026-11-23T12:00 --to 2026-11-23T14:30",
    "stop TP-1 --cause leak --from 2026-11-24T09:00 --to 2026-11-24T10:30",
    "stop TP-1 --cause leak --from 2026-11-24T14:00 --to 2026-11-24T22:30",
    "stop PB-1 --cause =gauge --from 2026-11-25T13:00 --to 2026-11-25T14:00",
    "done TP-1/weekly --at 2026-11-24T15:00 --minutes 30",
    "done TP-1/half-year --at 2026-11-25T15:00",
    "done PB-1/weekly --at 2026-11-23T15:00",
    "done FE-1/look --at 2026-11-02T09:00",
]
PERIOD = ["--from", "2026-11-23", "--to", "2026-11-25"]
LATER = "2026-11-26T12:00"
RATED = [
    ("  crew_hours: 6\n", "  crew_hours: 6\n  crew_rate: 40\n"),
    ("    name: Turret punch press\n",
     "    name: Turret punch press\n    kind: punching\n    hourly_rate: 80\n"),
    ("    name: Press brake\n", "    name: Press brake\n    kind: bending\n"),
    ("last_done: {on: 2026-11-20}", "last_done: {on: 2026-11-13}"),
]  # fmt: skip


@pytest.fixture(scope="module")
def reported_once(tmp_path_factory: pytest.TempPathFactory) -> Command:
    """A store with the history worked above, to be read only."""
    folder, text = tmp_path_factory.mktemp("report"), SMALL_SHOP.read_text()
    for old, new in RATED:
        assert text.count(old) == 1
        text = text.replace(old, new)
    (folder / "shop.yaml").write_text(text)
    run = Command(folder / "pmtrack.db")
    assert run("apply", str(folder / "shop.yaml"), now="2026-11-16T06:00").status == 0
    for line in HISTORY:
        assert run(*line.split(), now=LATER).status == 0, line
    return run


@pytest.fixture
def reported(reported_once: Command) -> Command:
    """The command line on that store."""
    return reported_once


def told(run: Command, *options: str) -> Any:
    return run.json("report", *PERIOD, *options, now=LATER)


def group(found: Any, name: str) -> Any:
    (row,) = (row for row in found["groups"] if row["group"] == name)
    return row


def figures(row: Any, **expected: float | None) -> None:
    assert {name: row[name] for name in expected} == pytest.approx(expected)


def test_machines_of_a_kind_stand_together(reported: Command) -> None:
    found = told(reported, "--by", "kind")
    assert found["by"] == "kind"
    assert [row["group"] for row in found["groups"]] == ["punching", "bending", "no kind"]
    figures(
        group(found, "punching"),
        scheduled_hours=49.5,
        planned_hours=2.5,
        unplanned_hours=2.5,
        unplanned_stops=2,
        breakdown_hours=10,
        hits=66750,
        hits_lost_unplanned=3750,
        parts_lost_unplanned=25,
        parts_lost_planned=25,
        money_lost_unplanned=200,
        money_lost_planned=200,
        scrap_share=5 / 450,
        pm_jobs=2,
        pm_hours=7.5,
        pm_cost=470,
    )
    figures(
        group(found, "bending"),
        unplanned_hours=1,
        hits=None,
        parts_lost_unplanned=2,
        money_lost_unplanned=None,
        pm_hours=1 / 3,
        pm_cost=40 / 3,
    )
    figures(
        found["shop"],
        unplanned_stops=3,
        hits_lost_unplanned=3750,
        parts_lost_unplanned=27,
        money_lost_unplanned=200,
        pm_jobs=3,
        pm_cost=470 + 40 / 3,
    )


def test_causes_cost_what_the_machines_would_have_made(reported: Command) -> None:
    found = told(reported, "--by", "cause")
    assert [row["group"] for row in found["groups"]] == ["leak", "service", "=gauge"]
    figures(
        group(found, "leak"),
        stops=2,
        unplanned_hours=2.5,
        planned_hours=0,
        hours_each=1.25,
        hits_lost=3750,
        parts_lost=25,
        money_lost=200,
        share=2.5 / 6,
        cumulative_share=2.5 / 6,
    )
    figures(group(found, "=gauge"), parts_lost=2, hits_lost=None, money_lost=None)


@pytest.mark.parametrize(
    ("by", "names"),
    [
        ("week", ["2026-W47", "2026-W48"]),
        ("month", ["2026-11"]),
        ("quarter", ["2026-Q4"]),
    ],
)
def test_spans_of_dates_add_up(reported: Command, by: str, names: list[str]) -> None:
    dates = ["--from", "2026-11-20", "--to", "2026-12-31"]  # weeks to come are left out
    found = reported.json("report", *dates, "--by", by, now=LATER)
    assert [row["group"] for row in found["groups"]] == names
    assert (found["groups"][0]["from"], found["groups"][-1]["to"]) == ("2026-11-20", "2026-11-26")
    for name in ("scheduled_hours", "unplanned_hours", "unplanned_stops", "hits", "good_parts",
                 "pm_jobs", "breakdown_hours", "jobs_on_time"):  # fmt: skip
        assert sum(row[name] for row in found["groups"]) == found["shop"][name], name


def test_the_week_of_one_machine(reported: Command) -> None:
    found = told(reported, "--by", "week", "--machine", "TP-1")
    figures(group(found, "2026-W48"), scheduled_hours=49.5, unplanned_hours=2.5, hits=66750)


def test_what_a_law_demands_stands_by_itself(reported: Command) -> None:
    """Due in November: the look of FE-1 on the 2nd, done then, demanded; the others are the shop's
    own."""
    dates = ["--from", "2026-11-01", "--to", "2026-11-25"]
    found = reported.json("report", *dates, now=LATER)
    figures(found["shop"], statutory_on_time_share=1, statutory_jobs_on_time=1)
    assert found["shop"]["jobs_on_time"] > 1
    press = next(row for row in found["machines"] if row["machine"] == "TP-1")
    figures(press, statutory_on_time_share=None, statutory_jobs_on_time=0)


def test_the_period_before_stands_beside(reported: Command) -> None:
    found = told(reported, "--before")
    before = found["before"]
    assert (before["from"], before["to"]) == ("2026-11-20", "2026-11-22")
    figures(before["shop"], scheduled_hours=25.5, unplanned_hours=1, unplanned_stops=1, hits=7500)
    figures(
        found["difference"]["shop"],
        scheduled_hours=3 * 49.5 - 25.5,
        unplanned_hours=2.5,
        unplanned_stops=2,
        hits=66750 - 7500,
    )
    press = group(found["difference"], "TP-1")
    figures(press, unplanned_hours=1.5, availability=44.5 / 47 - 7.5 / 8.5, pm_hours=7.5)
    assert "mtbf_low" not in press
    assert "before" not in told(reported)


def test_a_period_not_over_is_set_beside_as_many_days(reported: Command) -> None:
    dates = ["--from", "2026-11-23", "--to", "2026-12-31", "--before"]
    found = reported.json("report", *dates, "--on", "2026-11-25", now=LATER)
    assert (found["before"]["from"], found["before"]["to"]) == ("2026-11-20", "2026-11-22")


def test_it_is_said_that_nothing_was_entered_before(reported: Command) -> None:
    shown = reported.done("report", *PERIOD, "--before", now=LATER)
    assert "Nothing is entered" not in shown  # from the 20th on there is
    dates = ["--from", "2026-11-20", "--to", "2026-11-22", "--before"]
    shown = reported.done("report", *dates, now=LATER)
    assert "Nothing is entered before 2026-11-20, so not all of it is known." in shown


BY = ["machine", "kind", "cause", "week", "month", "quarter"]


@pytest.mark.parametrize("by", BY)
def test_every_report_fits_the_paper(reported: Command, by: str) -> None:
    for more in ([], ["--before"], ["--machine", "TP-1", "--before"], ["--machine", "FE-1"]):
        assert_fits(reported.done("report", *PERIOD, "--by", by, *more, now=LATER))


LINES = """
punching 49.5 2.5 2.5 94.7 % 2 22 (7-125) 5
shop 148.5 2.5 3.5 97.6 % 3 48 (18-174) 3.7
punching 66,750 hits 1,500 3,750 3,750 445 1.1 %
shop 542 parts 4 27 25 542 0.9 %
Money lost to breakdowns 200 80 +120
punching 2.5 1 +1.5 94.7 % 88.2 % +6.4 pt 2 1 +1
"""


def test_the_lines_of_a_report_by_kind(reported: Command) -> None:
    """T / n = 44.5 / 2 and 142.5 / 3. Bounds 89 / 12.592, 89 / 0.711 and 285 / 15.507, 285 / 1.635:
    critical values of NIST/SEMATECH e-Handbook, 1.3.6.7.4. MTTR (1.5 + 8.5) / 2 and 11 / 3.
    Availability on the Friday 7.5 / 8.5."""
    shown = trimmed(reported.done("report", *PERIOD, "--by", "kind", "--before", now=LATER))
    found = [" ".join(line.split()) for line in shown]
    assert [line for line in LINES.strip().splitlines() if line not in found] == []


def rows(path: Path) -> list[dict[str, str]]:
    """The rows of a CSV file by their header."""
    return list(csv.DictReader(io.StringIO(path.read_bytes().decode(), newline="")))


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """Where the rows go."""
    return tmp_path / "report.csv"


@pytest.mark.parametrize("by", BY)
def test_the_rows_are_those_of_the_json(reported: Command, out: Path, by: str) -> None:
    found = told(reported, "--by", by)
    shown = reported.done("report", *PERIOD, "--by", by, "--csv", str(out), now=LATER)
    written = rows(out)
    assert shown == f"{out}: {len(written)} rows by {by}\n"
    names = [row[by] for row in written]
    expected = [row["group"].replace("=gauge", "'=gauge") for row in found["groups"]]
    assert names == expected + ([] if by == "cause" else ["shop"])
    for row, group_found in zip(written, found["groups"], strict=False):
        for name, value in group_found.items():
            if name not in ("group", "from", "to"):
                assert (float(row[name]) if row[name] else None) == (
                    None if value is None else pytest.approx(value, abs=1e-6)
                ), name
        assert (row["from"], row["to"]) == ("2026-11-23", "2026-11-25")


def test_rows_have_the_period_before_in_further_columns(reported: Command, out: Path) -> None:
    reported.done("report", *PERIOD, "--before", "--csv", str(out), now=LATER)
    press, *_, shop = rows(out)
    assert press["machine"] == "TP-1"
    told = [press[f"unplanned_hours{end}"] for end in ("", "_before", "_difference")]
    assert told == ["2.5", "1", "1.5"]
    assert shop["scheduled_hours_difference"] == "123"
    assert None not in press  # as many cells as names


def test_a_cause_that_came_up_anew_has_no_figures_before(reported: Command, out: Path) -> None:
    reported.done("report", *PERIOD, "--by", "cause", "--before", "--csv", str(out), now=LATER)
    leak, service, _ = rows(out)
    assert (leak["stops_before"], leak["stops_difference"]) == ("1", "1")
    assert (service["stops_before"], service["stops_difference"]) == ("", "")


def test_json_goes_alone_to_standard_output_beside_a_file(reported: Command, out: Path) -> None:
    shown = reported("report", *PERIOD, "--csv", str(out), "--json", now=LATER)
    assert shown.err == f"{out}: 4 rows by machine\n"
    assert shown.out.startswith("{")


def test_what_cannot_be_written_leaves_what_is_there(reported: Command, tmp_path: Path) -> None:
    before = dump(reported.store)
    for path, message in (
        (reported.store, "this is the store; name another file"),
        (tmp_path / "none" / "report.csv", "name a file that can be written"),
        (tmp_path, "name a file that can be written"),
    ):
        reported.refused(["report", *PERIOD, "--csv", str(path)], 3, message, now=LATER)
    assert dump(reported.store) == before
    assert list(tmp_path.iterdir()) == []


def test_a_report_by_something_else_is_refused(reported: Command) -> None:
    arguments = ["report", *PERIOD, "--by", "colour"]
    refused = reported.refused(arguments, 2, "colour", now=LATER)
    assert "quarter" in refused.err
