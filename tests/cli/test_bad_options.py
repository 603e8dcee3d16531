"""What the command line refuses to read or to believe: status, sentence, and an untouched store."""

import shlex

import pytest

from tests.command import Command

NOT_READ = [  # status 2
    ("log TP-1 --hits abc", "'abc' is not a number; write it like 41200 or 7.5"),
    ("log TP-1 --hits ''", "'' is not a number"),
    ("log TP-1 --hits 1e5", "'1e5' is not a number"),
    ("log TP-1 --hits nan", "'nan' is not a number"),
    ("log TP-1 --hits inf", "'inf' is not a number"),
    ("log TP-1 --hits 0x10", "'0x10' is not a number"),
    ("log TP-1 --hits １２", "is not a number"),  # noqa: RUF001 - digits of another script
    ("log TP-1 --hits 1,2,3", "'1,2,3' is not a number"),
    ("log TP-1 --hits 7,5", "'7,5' is not a number"),
    ("log TP-1 --hours 7.1234567", "more than 6 decimals; round it"),
    ("log TP-1 --hits 1000000000001", "is too large; at most 10^12"),
    ("log TP-1 --parts ten", "'ten' is not a number"),
    ("log TP-1 --dial hits", "--dial hits: write name=value, like hits=41200"),
    ("log TP-1 --dial =5", "--dial =5: write name=value"),
    ("log TP-1 --dial hits=", "'' is not a number"),
    ("log TP-1 --dial hits=1 --dial hits=2", "--dial: hits stands twice; keep one"),
    ("log TP-1 --count hits=1 --hits 2", "hits is given twice"),
    ("log TP-1 --hits 5 --wrapped hits", "--wrapped hits: give its --dial hits=N too"),
    ("log TP-1 --hits 5 --exchanged hits", "--exchanged hits: give its --dial hits=N too"),
    ("log TP-1 --dial hits=5 --wrapped hits --exchanged hits", "cannot be both"),
    ("done TP-1/monthly --minutes abc", "--minutes"),
    ("done TP-1/monthly --minutes 1.5", "--minutes"),
    ("done TP-1/monthly --measure pump-pressure", "--measure pump-pressure: write name=value"),
    ("done TP-1/monthly --measure pump-pressure=high", "'high' is not a number"),
    ("done", "Missing argument 'task'"),
    ("done TP-1/monthly PB-1/weekly", "unexpected extra argument"),
    ("defer TP-1/monthly --until 2026-12-04", "Missing option '--why'"),
    ("defer TP-1/monthly --why rush", "Missing option '--until'"),
    ("idle TP-1", "Missing option '--why'"),
    ("stop TP-1", "Missing option '--cause'"),
    ("void abc --why x", "Invalid value for 'entry'"),
    ("void -1 --why x", "No such option: -1"),
    ("void 1", "Missing option '--why'"),
    ("job TP-1", "Missing argument 'title'"),
    ("job TP-1 hose --minutes -1", "--minutes"),
    ("sharpen RD-10 --mm much --why planned", "'much' is not a number"),
    ("sharpen RD-10 --mm 0.2", "Missing option '--why'"),
    ("fit RD-10", "Missing option '--station'"),
    ("today --within -1", "--within"),
    ("today --within soon", "--within"),
    ("today --within 99999999999", "--within"),
    ("entries --last 0", "--last"),
    ("today --colour", "No such option: --colour"),
    ("todya", "No such command 'todya'. Did you mean 'today'?"),
    ("", "Missing command"),
    ("calendar 2027-Q1", "Missing option '--out'"),
    ("import nope {shop}", "no kind 'nope' of file; write one of shifts, dials, stops"),
]

REFUSED = [  # status 3
    # machines, meters, shifts, programs, materials, tasks, tools, entries that are not there
    ("log TP-9 --hits 5", "no machine 'TP-9'; the shop has TP-1, PB-1, FE-1"),
    ("log tp1 --hits 5", "no machine 'tp1'"),
    ("log TP-1 --count bends=5", "TP-1 has no meter 'bends'; it has hits, hours"),
    ("log FE-1 --hits 5", "FE-1 has no meter 'hits'; it has no meters"),
    ("log TP-1 --shift late --hits 5", "no shift 'late'; the shop has day, night"),
    ("log TP-1 --parts 5 --program DOOR", "no program 'DOOR'; the shop file has KIOSK-DOOR"),
    ("log TP-1 --parts 5 --material copper", "no material 'copper'; the shop file has mild"),
    ("done TP-1/yearly", "no task 'TP-1/yearly'; tasks there: TP-1/weekly, TP-1/monthly"),
    ("done yearly", "no task 'yearly'; see 'pmtrack today --all'"),
    ("why TP-1", "no task 'TP-1'; tasks there: TP-1/weekly"),
    ("why ''", "no task ''"),
    ("defer TP-1/yearly --until 2026-12-04 --why x", "no task 'TP-1/yearly'"),
    ("idle TP-9 --why x", "no machine 'TP-9'"),
    ("stop TP-9 --cause x", "no machine 'TP-9'"),
    ("job TP-9 x", "no machine 'TP-9'"),
    ("sharpen RD-99 --mm 0.2 --why planned", "no tool 'RD-99'; see 'pmtrack tooling'"),
    ("fit SQ-5 --station T13 --machine TP-9", "no machine 'TP-9'"),
    ("tooling --machine TP-9", "no machine 'TP-9'"),
    ("entries --machine TP-9", "no machine 'TP-9'"),
    ("report --from 2026-11-01 --to 2026-11-30 --machine TP-9", "no machine 'TP-9'"),
    ("void 99 --why x", "no entry 99; see 'pmtrack entries'"),
    ("void 0 --why x", "no entry 0"),
    ("job TP-1 hose --found-in 1", "entry 1 is no completion; see 'pmtrack entries'"),
    # what cannot be
    ("log TP-1 --hits -5", "hits cannot be below 0"),
    ("log TP-1 --parts -1", "parts cannot be below 0"),
    ("log TP-1 --scrap -1", "scrap cannot be below 0"),
    ("log TP-1 --dial hours=-1", "hours cannot be below 0"),
    ("log TP-1 --hits 61201", "61,201 hits is more than the machine can make in a shift of 8.5 h"),
    # 41,200 are logged for that shift already: 120 x 60 x 8.5 = 61,200 is the most
    (
        "log TP-1 --shift day --date 2026-11-24 --hits 20001",
        "TP-1 20,001 hits and the 41,200 already logged for that shift are more than the machine",
    ),
    ("log TP-1 --dial hits=1204349", "hits would run backwards, from 1,204,350 (entry 2)"),
    ("log TP-1 --dial hours=5 --wrapped hours", "TP-1 hours has no wraps_at in the shop file"),
    ("log TP-1 --material mild", "the input ended; nothing was logged"),
    ("done TP-1/monthly --minutes -1", "minutes cannot be below 0"),
    ("done TP-1/job-9", "TP-1/job-9 is done already: entry 10"),
    ("done TP-1/weekly --measure level=5", "TP-1/weekly does not measure 'level'"),
    ("done TP-1/weekly --dial bends=5", "TP-1 has no meter 'bends'"),
    ("done TP-1/weekly --follow-up ''", "say what is to be done"),
    ("done TP-1/weekly --by ' '", "say who records it, like --by Dana"),
    ("job TP-1 ''", "say what is to be done"),
    ("job TP-1 hose --wanted 2026-11-24", "2026-11-24 lies before 2026-11-25"),
    ("defer TP-1/monthly --until 2026-12-04 --why ''", "say why, like --why"),
    ("defer TP-1/monthly --until 2026-11-24 --why x", "2026-11-24 lies before 2026-11-25"),
    ("defer FE-1/look --until 2026-12-31 --why x", "is demanded by 29 CFR 1910.157(e)(2)"),
    ("idle TP-1 --why ''", "say why, like --why"),
    ("idle FE-1 --why again", "FE-1 is out of service since 2026-11-25T08:00 (entry 5)"),
    ("back TP-1", "TP-1 is in service and was not out before"),
    ("stop TP-1 --cause ''", "say what stopped it"),
    ("restart TP-1", "TP-1 has no running stop then"),
    ("restart PB-1 --at 2026-11-25T12:59", "PB-1 has no running stop then"),
    ("void 7 --why x", "entry 7 was crossed out already, by entry 8"),
    ("void 8 --why x", "entry 8 crosses out another; enter the fact anew instead"),
    ("void 1 --why ''", "say why, like --why"),
    ("sharpen RD-10 --mm 0 --why planned", "say how much was ground off, in mm"),
    ("sharpen RD-10 --mm -0.2 --why planned", "say how much was ground off, in mm"),
    ("sharpen RD-10 --mm 3.1 --why planned", "RD-10 has 3 mm left to grind, not 3.1"),
    ("sharpen RD-10 --mm 0.2 --why dull", "say why it was sharpened: --why planned, burr, chip"),
    ("fit RD-10 --station T13", "RD-10 is already in station T12 of TP-1; take it out first"),
    ("fit SQ-5 --station T12", "station T12 of TP-1 holds RD-10; take it out first"),
    ("fit SQ-5 --station ''", "say the station"),
    ("fit SQ-5 --station ' '", "say the station"),
    ("takeout SQ-5", "SQ-5 is not fitted in any station"),
    # files
    ("check {folder}/none.yaml", "no such file or directory; name a shop file that exists"),
    ("check {folder}", "is a directory; name a shop file that exists"),
    ("check {store}", ":1:"),
    ("apply {folder}/none.yaml", "no such file or directory; name a shop file that exists"),
    ("import shifts {folder}/none.csv", "no such file or directory; name a file that exists"),
    ("import shifts {folder}", "is a directory; name a file that exists"),
    ("import shifts {shop}", ":1:"),
    ("backup {store}", "a file is here already; name a new one"),
    ("backup {folder}/none/copy.db", "no such folder; make it first"),
    ("backup {folder}/{long}", "file name too long"),
    ("calendar 2027-Q1 --out {folder}/none/q1.ics", "name a file that can be written"),
    ("calendar 2027-Q1 --out {folder}", "name a file that can be written"),
    ("calendar 2027-Q1 --out {folder}/{long}", "file name too long"),
    ("calendar 2027-Q1 --out {store}", "name another file"),
    ("demo", "a store is here already, and it is no demo"),
]


def _words(line: str, run: Command) -> list[str]:
    places = {
        "store": run.store,
        "folder": run.store.parent,
        "shop": run.store.with_name("shop.yaml"),
        "long": "x" * 300,
    }
    (run.store.with_name("shop.yaml")).write_text("shop: 3\n")
    return [word.format_map(places) for word in shlex.split(line)]


@pytest.mark.parametrize(("line", "message"), NOT_READ)
def test_what_cannot_be_read_ends_with_status_2(
    run_worked: Command, line: str, message: str
) -> None:
    run_worked.refused(_words(line, run_worked), 2, message)


@pytest.mark.parametrize(("line", "message"), REFUSED)
def test_what_cannot_be_ends_with_status_3(run_worked: Command, line: str, message: str) -> None:
    run_worked.refused(_words(line, run_worked), 3, message)


@pytest.mark.parametrize(
    "line",
    [
        "void 99999999999999999999 --why x",
        "job TP-1 hose --found-in 99999999999999999999",
        "job TP-1 hose --minutes 99999999999999999999",
        "done TP-1/monthly --minutes 99999999999999999999",
    ],
)
def test_a_number_past_all_bounds_is_refused(run_worked: Command, line: str) -> None:
    told = run_worked.refused(line.split(), (2, 3), "")
    assert "99999999999999999999" in told.err or "--minutes" in told.err


def test_no_sentence_shows_the_inside_of_the_store(run_worked: Command) -> None:
    assert "constraint" not in run_worked("fit", "SQ-5", "--station", "").err
