"""A manager's day: the quarter's calendar and its revisions, the report, backups, verify."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.command import NOW, SMALL_SHOP, Command, assert_fits, dump, trimmed

TEXT = SMALL_SHOP.read_text()


class Event(dict[str, str]):
    """The properties of one event."""


def events(path: Path) -> list[Event]:
    """The events of a calendar file, unfolded."""
    text = path.read_bytes().decode().replace("\r\n ", "")
    found = []
    for block in re.findall(r"BEGIN:VEVENT\r\n(.*?)END:VEVENT", text, re.DOTALL):
        own = re.sub(r"BEGIN:VALARM.*?END:VALARM\r\n", "", block, flags=re.DOTALL)
        pairs = (line.split(":", 1) for line in own.splitlines())
        found.append(Event({name.split(";")[0]: value for name, value in pairs}))
    return found


def of_task(path: Path, summary: str) -> dict[str, Event]:
    """The events of one task by UID."""
    return {e["UID"]: e for e in events(path) if e["SUMMARY"].endswith(summary)}


MONTHLY = "TP-1: Monthly in-house service"


@pytest.fixture
def out(run: Command) -> Path:
    """Where the calendar file goes."""
    return run.store.with_name("q1.ics")


def write(run: Command, out: Path, now: str = NOW) -> str:
    """Write the calendar of the first quarter of 2027."""
    told = run("calendar", "2027-Q1", "--out", str(out), now=now)
    assert told.status == 0
    return told.out


def test_a_calendar_tells_its_events_and_the_load_of_each_week(run: Command, out: Path) -> None:
    told = trimmed(write(run, out))
    assert told[0] == f"{out}: {len(events(out))} events"
    # the first week works from Monday 4 January: extinguishers 15 min, two weeklies of 20 min,
    # of 5 days at 6 crew hours; 0.92 of 30 places of the bar
    assert (
        told[1] == "  2027-W01     3 jobs    0.9 of 30 h in-house  #............................."
    )
    assert_fits("\n".join(told[1:]))
    # the half-year service of 11 December covers the monthly, which recurs a month later
    days = sorted(e["DTSTART"] for e in of_task(out, MONTHLY).values())
    assert days == ["20270111", "20270211", "20270311"]
    assert {e["SEQUENCE"] for e in events(out)} == {"0"}
    assert {e["STATUS"] for e in events(out)} == {"CONFIRMED"}
    uids = [e["UID"] for e in events(out)]
    assert len(set(uids)) == len(uids)


def test_a_calendar_written_again_is_the_same_bytes(run: Command, out: Path) -> None:
    write(run, out)
    first, before = out.read_bytes(), dump(run.store)
    write(run, out)
    assert out.read_bytes() == first
    write(run, out, now="2026-11-25T16:00")  # later, but nothing moved
    assert out.read_bytes() == first
    assert dump(run.store) == before


def test_a_completion_moves_the_event_that_followed_from_it(run: Command, out: Path) -> None:
    assert run("done", "TP-1/monthly").status == 0
    write(run, out)
    before = of_task(out, MONTHLY)
    assert sorted(e["DTSTART"] for e in before.values()) == ["20270111", "20270211", "20270311"]
    # done on Friday 18 December in place of the 11th: a week later each time
    run.done("done", "TP-1/half-year", "--at", "2026-12-18", now="2026-12-18T15:00")
    write(run, out, now="2026-12-18T15:30")
    after = of_task(out, MONTHLY)
    assert after.keys() == before.keys()
    assert sorted(e["DTSTART"] for e in after.values()) == ["20270118", "20270218", "20270318"]
    assert {e["SEQUENCE"] for e in after.values()} == {"1"}
    assert {e["DTSTAMP"] for e in after.values()} == {"20261218T203000Z"}
    looks = of_task(out, "FE-1: Portable extinguishers\\, monthly visual check")
    assert {e["SEQUENCE"] for e in looks.values()} == {"0"}  # what did not move is as it was


def reminders(path: Path) -> set[str]:
    """The UIDs of the events that still ring."""
    text = path.read_bytes().decode().replace("\r\n ", "")
    blocks = re.findall(r"BEGIN:VEVENT\r\n(.*?)END:VEVENT", text, re.DOTALL)
    return {re.findall(r"UID:(.*)\r", b)[0] for b in blocks if "BEGIN:VALARM" in b}


def test_a_job_done_early_is_told_as_done_on_that_day_until_it_is_crossed_out(
    run: Command, out: Path
) -> None:
    write(run, out)
    run.done("done", "TP-1/half-year", "--at", "2026-12-11T10:00", now="2026-12-11T15:00")
    write(run, out, now="2026-12-11T15:30")
    (before,) = (e for e in of_task(out, MONTHLY).values() if e["DTSTART"] == "20270111")
    assert before["UID"] in reminders(out)
    # done on Monday 4 January in place of the 11th
    number = run("done", "TP-1/monthly", "--at", "2027-01-04T10:00", now="2027-01-04T15:00").out
    told = write(run, out, now="2027-01-04T15:30")
    assert ", 1 of them done; since the last file " in told
    assert ", 1 done\n" in told
    done = of_task(out, MONTHLY)[before["UID"]]
    assert done["SUMMARY"] == f"Done: {MONTHLY}"
    assert done["DTSTART"] == "20270104"
    assert done["STATUS"] == "CONFIRMED"
    assert int(done["SEQUENCE"]) == int(before["SEQUENCE"]) + 1
    entry = re.findall(r"entry (\d+)", number)[0]
    assert done["DESCRIPTION"].startswith(f"Done on Mon 2027-01-04 at 10:00 (entry {entry}).")
    assert before["UID"] not in reminders(out)
    later = out.read_bytes()
    write(run, out, now="2027-01-04T16:00")
    assert out.read_bytes() == later
    run.done("void", entry, "--why", "wrong machine", now="2027-01-04T16:10")
    write(run, out, now="2027-01-04T16:20")
    back = of_task(out, MONTHLY)[before["UID"]]
    assert (back["SUMMARY"], back["DTSTART"]) == (MONTHLY, "20270111")
    assert int(back["SEQUENCE"]) == int(done["SEQUENCE"]) + 1
    assert before["UID"] in reminders(out)


def test_a_job_that_another_one_settled_says_which(run: Command, out: Path) -> None:
    run("done", "TP-1/monthly", "--at", "2026-12-14T10:00", now="2026-12-14T15:00")
    write(run, out, now="2026-12-14T15:30")
    told = run("done", "TP-1/half-year", "--at", "2026-12-28", now="2026-12-29T08:00")
    entry = re.findall(r"entry (\d+)", told.out)[0]
    write(run, out, now="2026-12-29T08:30")
    (done,) = (e for e in of_task(out, MONTHLY).values() if e["SUMMARY"].startswith("Done"))
    text = f"Done on Mon 2026-12-28 with TP-1/half-year\\, which covers it (entry {entry})."
    assert done["DESCRIPTION"].startswith(text)
    assert done["DTSTART"] == "20261228"


def test_a_job_that_comes_out_late_leaves_the_events_to_come_alone(run: Command, out: Path) -> None:
    run("done", "TP-1/monthly", "--at", "2026-12-18", now="2026-12-18T15:00")
    write(run, out, now="2026-12-18T15:30")
    before = of_task(out, MONTHLY)
    assert sorted(e["DTSTART"] for e in before.values()) == ["20270118", "20270218", "20270318"]
    # a week later it comes out that the outside service of the 11th was never entered
    run("done", "TP-1/half-year", "--at", "2026-12-11", now="2026-12-22T08:00")
    write(run, out, now="2026-12-22T08:30")
    after = of_task(out, MONTHLY)
    assert standing(after) == standing(before)


def standing(found: dict[str, Event]) -> dict[str, tuple[str, str, str]]:
    """Day, SEQUENCE and STATUS of events, by UID."""
    return {uid: (e["DTSTART"], e["SEQUENCE"], e["STATUS"]) for uid, e in found.items()}


def test_the_events_told_are_the_quarters_own(run: Command, out: Path) -> None:
    write(run, out)
    # done on Friday 5 March, the monthly is next due in April
    run("done", "TP-1/half-year", "--at", "2026-12-28", now="2026-12-29T08:00")
    run("done", "TP-1/monthly", "--at", "2027-01-04", now="2027-01-05T08:00")
    run("done", "TP-1/monthly", "--at", "2027-03-05", now="2027-03-08T08:00")
    told = write(run, out, now="2027-03-08T08:30")
    days = [e["DTSTART"] for e in events(out) if e["STATUS"] == "CONFIRMED"]
    away = [day for day in days if day > "20270331"]
    assert away
    assert told.startswith(f"{out}: {len(days) - len(away)} events, ")


def test_done_jobs_stay_done_when_their_machine_or_task_goes(run: Command, out: Path) -> None:
    write(run, out)
    run.done("done", "FE-1/look", "--at", "2027-01-04T09:00", now="2027-01-04T10:00")
    write(run, out, now="2027-01-04T10:30")
    (done,) = (e for e in events(out) if e["SUMMARY"].startswith("Done"))
    run.done("idle", "FE-1", "--why", "hall cleared", now="2027-01-05T10:00")
    assert run("calendar", "2027-Q1", "--out", str(out), now="2027-01-05T11:00").status == 0
    assert [e for e in events(out) if e["SUMMARY"].startswith("Done")] == [done]


def test_an_event_of_a_retired_task_is_cancelled(run: Command, out: Path) -> None:
    write(run, out)
    before = of_task(out, MONTHLY)
    shop = run.store.with_name("changed.yaml")
    monthly = TEXT[TEXT.index("  - code: monthly") : TEXT.index("  - code: half-year")]
    shop.write_text(TEXT.replace(monthly, "").replace("    covers: [monthly]\n", ""))
    run.done("apply", str(shop))
    told = write(run, out)
    assert "3 cancelled" in told.splitlines()[0]
    after = of_task(out, MONTHLY)
    assert after.keys() == before.keys()
    assert {(e["STATUS"], e["SEQUENCE"]) for e in after.values()} == {("CANCELLED", "1")}
    assert {e["SUMMARY"] for e in after.values()} == {f"Cancelled: {MONTHLY}"}
    write(run, out, now="2026-11-26T08:00")
    assert of_task(out, MONTHLY) == after  # cancelled once


def test_a_moved_interval_keeps_uid_and_raises_sequence(run: Command, out: Path) -> None:
    write(run, out)
    summary = "PB-1: Drive belt inspected"
    before = of_task(out, summary)
    run.done("log", "PB-1", "--shift", "day", "--count", "cycles=300")
    write(run, out)
    after = of_task(out, summary)
    moved = [uid for uid in before if uid in after
             and before[uid]["DTSTART"] != after[uid]["DTSTART"]]  # fmt: skip
    assert moved
    for uid in before.keys() & after.keys():
        was, now = before[uid], after[uid]
        changed = was["DTSTART"] != now["DTSTART"] or now["STATUS"] == "CANCELLED"
        assert int(now["SEQUENCE"]) == int(was["SEQUENCE"]) + changed


def test_a_calendar_of_a_machine_out_of_service_says_what_it_leaves_out(
    run: Command, out: Path
) -> None:
    run.done("idle", "FE-1", "--why", "hall cleared")
    told = run("calendar", "2027-Q1", "--out", str(out))
    assert told.err == "Left out while the machine is out of service: FE-1/look\n"
    assert not [e for e in events(out) if e["SUMMARY"].startswith("FE-1")]


TODO = re.compile("BEGIN:VTODO")


def test_to_dos_in_place_of_events(run: Command, out: Path) -> None:
    told = run("calendar", "2027-Q1", "--out", str(out), "--todos")
    assert told.out.startswith(f"{out}: {len(TODO.findall(out.read_text()))} to-dos\n")
    text = out.read_text()
    assert "BEGIN:VTODO" in text
    assert "BEGIN:VEVENT" not in text


# --- the report: Monday 23 to Wednesday 25 November, known on Thursday the 26th
#
# TP-1: three day shifts of 8.5 h and three night shifts of 8 h: S = 49.5.
# Planned: Monday 12:00 to 14:30, P = 2.5. Unplanned: Tuesday 09:00 to 10:30 (1.5 h); Tuesday
# 14:00 to 22:30, of which 0.5 h and 0.5 h are scheduled; X = 2.5, n = 2.
# T = 49.5 - 2.5 - 2.5 = 44.5; availability 44.5 / 47; MTBF 44.5 / 2 = 22.25;
# MTTR (1.5 + 8.5) / 2 = 5, inside scheduled time (1.5 + 1) / 2 = 1.25.
# Hits 30,000 + 20,000 + 16,750 = 66,750; 66,750 / 44.5 = 1,500 an operating hour; lost: unplanned
# 2.5 x 1,500 = 3,750, planned as many. Parts 400 + 90, 500 / 50 scrap.

HISTORY = [
    "log TP-1 --shift day --date 2026-11-23 --hits 30000 --parts 400 --scrap 4",
    "log TP-1 --shift day --date 2026-11-24 --hits 20000 --parts 90 --scrap 6",
    "log TP-1 --shift night --date 2026-11-25 --hits 16750",
    "stop TP-1 --cause service --planned --from 2026-11-23T12:00 --to 2026-11-23T14:30",
    "stop TP-1 --cause leak --from 2026-11-24T09:00 --to 2026-11-24T10:30",
    "stop TP-1 --cause leak --from 2026-11-24T14:00 --to 2026-11-24T22:30",
]
PERIOD = ["--from", "2026-11-23", "--to", "2026-11-25"]
LATER = "2026-11-26T12:00"

FIGURES = {
    "scheduled_hours": 49.5,
    "planned_hours": 2.5,
    "unplanned_hours": 2.5,
    "busy_hours": 47,
    "operating_hours": 44.5,
    "availability": 44.5 / 47,
    "share_up": 44.5 / 49.5,
    "unplanned_stops": 2,
    "mtbf_hours": 22.25,
    # 2T / chi2(0.95; 2n + 2 = 6) and 2T / chi2(0.05; 2n = 4), critical values 12.592 and 0.711:
    # NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4
    "mtbf_low": 89 / 12.592,
    "mtbf_high": 89 / 0.711,
    "mttr_hours": 5,
    "mttr_scheduled_hours": 1.25,
    "hits": 66750,
    "good_parts": 490,
    "scrap": 10,
    "hits_per_scheduled_hour": 66750 / 49.5,
    "hits_per_operating_hour": 1500,
    "parts_per_scheduled_hour": 490 / 49.5,
    "parts_per_operating_hour": 490 / 44.5,
    "hits_lost_unplanned": 3750,
    "hits_lost_planned": 3750,
}


@pytest.fixture
def reported(run: Command) -> Command:
    """A small history, worked by hand above."""
    for line in HISTORY:
        assert run(*line.split(), now=LATER).status == 0
    return run


def test_the_figures_of_a_report(reported: Command) -> None:
    told = reported.json("report", *PERIOD, "--machine", "TP-1", now=LATER)
    assert (told["from"], told["to"]) == ("2026-11-23", "2026-11-25")
    (machine,) = told["machines"]
    assert machine["machine"] == "TP-1"
    assert {name: machine[name] for name in FIGURES} == pytest.approx(FIGURES, rel=1e-3)
    causes = [(c["cause"], c["stops"], c["unplanned_hours"]) for c in machine["causes"]]
    assert causes == [("leak", 2, 2.5), ("service", 1, 0)]


def test_a_report_fits_the_paper(reported: Command) -> None:
    for machine in ([], ["--machine", "TP-1"], ["--machine", "FE-1"]):
        shown = reported.done("report", *PERIOD, *machine, now=LATER)
        assert_fits(shown)
    assert "Machine  Sched" in " ".join(reported.done("report", *PERIOD, now=LATER).split("\n"))


def test_a_report_of_days_without_a_shift_has_no_ratios(reported: Command) -> None:
    sunday = ["--from", "2026-11-22", "--to", "2026-11-22", "--machine", "TP-1"]
    (machine,) = reported.json("report", *sunday, now=LATER)["machines"]
    empty = ("availability", "share_up", "mtbf_hours", "mttr_hours", "hits_per_scheduled_hour")
    assert [machine[name] for name in empty] == [None] * 5
    assert_fits(reported.done("report", *sunday, now=LATER))


def test_a_report_of_today_counts_the_shift_that_runs_up_to_now(run: Command) -> None:
    """Down since the day shift began at 06:00: at 10:00 4 h of 4 h, and nothing run."""
    now = "2026-11-25T10:00"
    run.done("stop", "TP-1", "--cause", "belt", "--from", "2026-11-25T06:00", now=now)
    today = ("--from", "2026-11-25", "--to", "2026-11-25", "--machine", "TP-1")
    (machine,) = run.json("report", *today, now=now)["machines"]
    figures = ("scheduled_hours", "unplanned_hours", "availability", "mtbf_hours", "mttr_hours")
    assert [machine[name] for name in figures] == [4, 4, 0, 0, 4]
    (watched,) = run.json("trend", "TP-1", *today[:4], now=now)
    assert watched["operating_hours"] == 0


def test_a_past_report_stays_as_it_was(reported: Command) -> None:
    on = ["--on", "2026-11-24", "--machine", "TP-1"]
    before = reported.json("report", *PERIOD, *on, now=LATER)
    assert before["machines"][0]["hits"] == 50_000  # the night shift of the 25th was still to come
    reported.done("stop", "TP-1", "--cause", "air", "--from", "2026-11-25T09:00", now=LATER)
    assert reported.json("report", *PERIOD, *on, now="2026-12-09T08:00") == before


# --- looking after the store


def test_a_backup_is_a_whole_store(run_worked: Command) -> None:
    copy = run_worked.store.with_name("copy.db")
    told = run_worked.done("backup", str(copy))
    assert told == f"{run_worked.store} is copied to {copy} and reads back well\n"
    assert dump(copy) == dump(run_worked.store)
    restored = Command(copy)
    assert restored.done("verify") == f"{copy}: sound\n"
    assert restored.json("today", "--all") == run_worked.json("today", "--all")
    assert not copy.with_name("copy.db-wal").exists()


def test_a_backup_is_taken_while_another_writes(run_worked: Command) -> None:
    copy = run_worked.store.with_name("copy.db")
    before = dump(run_worked.store)
    with closing(sqlite3.connect(run_worked.store, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        other.execute("DELETE FROM tally")
        run_worked.done("backup", str(copy))
        other.execute("ROLLBACK")
    assert dump(copy) == before


def test_a_backup_is_no_file_that_is_there(run_worked: Command) -> None:
    copy = run_worked.store.with_name("copy.db")
    copy.write_text("my own")
    run_worked.refused(["backup", str(copy)], 3, "a file is here already; name a new one")
    assert copy.read_text() == "my own"


def test_rows_of_a_file_are_taken_all_or_none(run: Command) -> None:
    rows = run.store.with_name("rows.csv")
    rows.write_text("machine,shift,date,by,hits\nTP-1,day,2026-11-24,Dana,9000\n")
    assert run.done("import", "shifts", str(rows)) == f"1 shifts rows taken from {rows}: entry 1\n"
    rows.write_text(
        "machine,shift,date,by,hits\nTP-1,day,2026-11-23,Dana,9000\nTP-9,day,2026-11-23,Dana,5\n"
    )
    run.refused(["import", "shifts", str(rows)], 3, f"{rows}:3: ")
    assert len(run.json("entries")) == 1
    rows.write_text(
        "machine,shift,date,by,hits\nTP-1,day,2026-11-23,Dana,9000\nTP-1,night,2026-11-23,Dana,5\n"
    )
    told = run.done("import", "shifts", str(rows))
    assert told == f"2 shifts rows taken from {rows}: entries 2 to 3\n"
    rows.write_text("machine,shift,date,by,hits\n")
    assert run.done("import", "shifts", str(rows)) == f"0 shifts rows taken from {rows}\n"


def test_a_report_of_days_to_come_has_no_weeks_yet(run: Command) -> None:
    told = run.json("report", "--from", "2027-01-04", "--to", "2027-01-08")
    assert [machine["weeks"] for machine in told["machines"]] == [[], [], []]
