"""A machine that left the shop on Thursday 10 December: there before, gone from then on."""

from pathlib import Path

import pytest

from tests.command import SMALL_SHOP, Command

TEXT = SMALL_SHOP.read_text()
BRAKE = TEXT[TEXT.index("  - code: PB-1") : TEXT.index("  - {code: FE-1")]
BELT = TEXT[TEXT.index("  - code: belt") : TEXT.index("  - code: look")]
GONE, LATER = "2026-12-10T12:00", "2026-12-14T09:00"
THERE, LAST_DAY, FIRST_DAY_GONE = "2026-12-08", "2026-12-09", "2026-12-10"


@pytest.fixture
def retired(run: Command, tmp_path: Path) -> Command:
    """A store from which the press brake was retired, with a log and a stop still running."""
    run.done("log", "PB-1", "--shift", "day", "--date", THERE, "--count", "cycles=500", now=GONE)
    run.done("stop", "PB-1", "--cause", "gauge", "--from", f"{LAST_DAY}T12:00", now=GONE)
    path = tmp_path / "without.yaml"
    path.write_text(TEXT.replace(BRAKE, "").replace(BELT, "").replace("[TP-1, PB-1]", "[TP-1]"))
    run.done("apply", str(path), now=GONE)
    return run


@pytest.mark.parametrize(("on", "there"), [(LAST_DAY, True), (FIRST_DAY_GONE, False)])
def test_usage_shows_it_until_the_day_it_went(retired: Command, on: str, there: bool) -> None:
    rows = retired.json("usage", "--on", on, now=LATER)
    assert [r["usage"] for r in rows if r["machine"] == "PB-1"] == ([500] if there else [])


def test_a_report_has_it_up_to_the_day_before(retired: Command) -> None:
    told = retired.json("report", "--from", THERE, "--to", "2026-12-11", now=LATER)
    (brake,) = (m for m in told["machines"] if m["machine"] == "PB-1")
    # 8 and 9 December: two day shifts of 8.5 h and two night shifts of 8 h; the stop runs from
    # 12:00 on the 9th to the end of its night shift: 2.5 h and 8 h of schedule
    assert (brake["scheduled_hours"], brake["unplanned_hours"]) == (33, 10.5)
    alone = retired.json(
        "report", "--from", THERE, "--to", "2026-12-11", "--machine", "PB-1", now=LATER
    )
    assert alone["machines"] == [brake]


def test_a_report_of_days_after_that_is_without_it(retired: Command) -> None:
    dates = ("--from", FIRST_DAY_GONE, "--to", "2026-12-11")
    told = retired.json("report", *dates, now=LATER)
    assert [m["machine"] for m in told["machines"]] == ["TP-1", "FE-1"]
    message = "machine PB-1 is retired since 2026-12-10: it is no longer in the shop file"
    retired.refused(["report", *dates, "--machine", "PB-1"], 3, message, now=LATER)


def test_a_report_of_days_before_its_last_stop_began_is_without_that(retired: Command) -> None:
    dates = ("--from", "2026-12-07", "--to", THERE, "--machine", "PB-1")
    (brake,) = retired.json("report", *dates, now=LATER)["machines"]
    assert (brake["unplanned_hours"], brake["unplanned_stops"]) == (0, 0)


@pytest.mark.parametrize(
    "line",
    [
        "log PB-1 --shift day --date {day} --count cycles=300",
        "stop PB-1 --cause leak --from {day}T07:00 --to {day}T08:00",
        "done PB-1/belt --at {day}T07:00 --dial cycles=90000",
        "defer PB-1/belt --until 2026-12-20 --why parts --at {day}T07:00",
        "idle PB-1 --why sold --at {day}T07:00",
    ],
)
def test_late_facts_are_taken_for_days_before_it_went(retired: Command, line: str) -> None:
    retired.done(*line.format(day=LAST_DAY).split(), now=LATER)
    sentence = (
        "is retired since 2026-12-10: it is no longer in the shop file; "
        "what happened up to 2026-12-09 is still taken"
    )
    retired.refused(line.format(day=FIRST_DAY_GONE).split(), 3, sentence, now=LATER)


def test_late_rows_of_a_file_are_taken_for_days_before_it_went(
    retired: Command, tmp_path: Path
) -> None:
    file = tmp_path / "shifts.csv"
    file.write_text(f"machine,shift,date,by,cycles\nPB-1,day,{LAST_DAY},Dana,300\n")
    assert retired("import", "shifts", str(file), now=LATER).status == 0
    (row,) = retired.json("usage", "--on", LAST_DAY, now=LATER)[-1:]
    assert (row["machine"], row["usage"]) == ("PB-1", 800)


def test_a_machine_that_never_was_is_still_named_as_such(retired: Command) -> None:
    message = "no machine 'PB-9'; the shop has TP-1, FE-1"
    retired.refused(["restart", "PB-9"], 3, message, now=LATER)
    report = ["report", "--from", THERE, "--to", LAST_DAY, "--machine", "PB-9"]
    retired.refused(report, 3, message, now=LATER)


def test_a_new_job_on_it_is_refused_whatever_its_day(retired: Command) -> None:
    line = ["job", "PB-1", "hose", "--at", f"{LAST_DAY}T07:00"]
    message = "machine PB-1 is retired since 2026-12-10: it is no longer in the shop file"
    retired.refused(line, 3, message, now=LATER)
