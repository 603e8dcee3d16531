"""An operator's day: shifts logged in a line or asked for, stops, and mistakes crossed out."""

import pytest

from tests.command import Command, trimmed

HEAD = "TP-1 Turret punch press, day shift of 2026-11-25. Enter skips a line.\n"
ASKED = ("hits (usual a day 9,000): ", "hours (usual a day 11): ", "good parts: ", "scrap: ")


def test_a_shift_is_logged_in_one_line(run: Command) -> None:
    told = run.done(
        "log", "TP-1", "--shift", "day", "--hits", "41,200", "--hours", "7.5", "--parts", "310",
        "--scrap", "4", "--dial", "hours=812.25", "--material", "mild", "--note", "new die",
    )  # fmt: skip
    assert told == (
        "entry 1: TP-1 day 2026-11-25: 41,200 hits, 7.5 hours, hours dial 812.25, 310 parts, "
        "4 scrap\n"
    )
    assert run.json("entries") == [
        {
            "entry": 1, "kind": "shift", "at": "2026-11-25T19:30:00Z", "by": "Dana",
            "day": "2026-11-25", "whole_day": False, "machine": "TP-1", "shift": "day",
            "parts": 310, "scrap": 4, "program": None, "material": "mild",
            "confirmed": False, "counts": {"hits": 41200, "hours": 7.5}, "dials": {"hours": 812.25},
            "wrapped": [], "exchanged": [], "note": "new die", "voided": False,
        }
    ]  # fmt: skip


def test_figures_are_asked_for_one_by_one(run: Command) -> None:
    run.done("fit", "RD-10", "--station", "T12", "--at", "2026-11-24")
    told = run("log", "TP-1", stdin="41200\n7.5\n310\n4\nKIOSK-DOOR\n")
    assert told.status == 0
    assert told.out == (
        "entry 2: TP-1 day 2026-11-25: 41,200 hits, 7.5 hours, 310 parts, 4 scrap, KIOSK-DOOR\n"
    )
    assert told.err == HEAD + "".join(ASKED) + "program: "
    # the next time it tells what was logged last
    told = run("log", "TP-1", stdin="\n\n\n\n", now="2026-11-27T14:45")
    assert told.err.split(": ")[0].endswith("hits (last 41,200, usual a day 14,366.7)")
    assert "good parts (last 310): " in told.err


def test_an_empty_line_skips_a_figure(run: Command) -> None:
    told = run("log", "TP-1", stdin="\n7.5\n\n\n")
    assert (told.status, told.out) == (0, "entry 1: TP-1 day 2026-11-25: 7.5 hours\n")


def test_what_is_no_number_is_asked_for_again(run: Command) -> None:
    told = run("log", "TP-1", stdin="many\n-\n41200\n\n\n\n")
    assert (told.status, told.out) == (0, "entry 1: TP-1 day 2026-11-25: 41,200 hits\n")
    assert told.err == (
        f"{HEAD}{ASKED[0]}'many' is not a number; write it like 41200 or 7.5\n"
        f"{ASKED[0]}'-' is not a number; write it like 41200 or 7.5\n{''.join(ASKED)}"
    )


@pytest.mark.parametrize(
    ("typed", "status", "message"),
    [
        ("", 3, "the input ended; nothing was logged"),
        ("41200\n", 3, "the input ended; nothing was logged"),
        ("\n\n\n\n", 3, "nothing to log: give hits, hours, parts"),
        ("x\n" * 5, 2, "no number for hits; nothing was logged"),
        ("-5\n" * 5, 2, "no number for hits; nothing was logged"),
        ("\n\n310\n\nDOOR\n", 3, "the input ended; nothing was logged"),
        ("\n\n310\n\n" + "DOOR\n" * 5, 2, "no program of the shop; nothing was logged"),
        ("70000\n\n\n\nno\n", 3, "nothing was logged"),
        ("70000\n\n\n\n\n", 3, "nothing was logged"),
        ("70000\n\n\n\n", 3, "the input ended; nothing was logged"),
    ],
)
def test_nothing_is_logged_when_the_answers_make_no_shift(
    run: Command, typed: str, status: int, message: str
) -> None:
    told = run("log", "TP-1", stdin=typed)
    assert (told.status, told.out) == (status, "")
    assert message in told.err.splitlines()[-1]
    assert run.json("entries") == []


def test_a_count_that_is_hard_to_believe_is_taken_on_a_yes(run: Command) -> None:
    told = run("log", "TP-1", stdin="70000\n\n\n\ny\n")
    assert (told.status, told.out) == (0, "entry 1: TP-1 day 2026-11-25: 70,000 hits\n")
    assert "at most 61,200 at 120 per minute" in told.err
    assert run.json("entries")[0]["confirmed"] is True


def test_a_count_that_is_hard_to_believe_needs_a_word(run: Command) -> None:
    run.done("log", "TP-1", "--hits", "61200")  # 120 x 60 x 8.5
    run.refused(["log", "TP-1", "--hits", "1"], 3, "1 hits and the 61,200 already logged")
    assert run("log", "TP-1", "--hits", "1", "--confirm").status == 0
    run.done("log", "TP-1", "--shift", "night", "--date", "2026-11-24", "--hits", "57600")
    run.refused(["log", "TP-1", "--shift", "night", "--hits", "1"], 3, "shift of 8 h")


@pytest.mark.parametrize(
    ("now", "options", "slot"),
    [
        ("2026-11-25T14:45", "", "day 2026-11-25"),  # after the day shift
        ("2026-11-25T12:00", "", "day 2026-11-25"),  # before its end
        ("2026-11-25T10:14", "", "night 2026-11-24"),  # the day shift is half over at 10:15
        ("2026-11-25T10:15", "", "day 2026-11-25"),
        ("2026-11-25T05:59", "", "night 2026-11-24"),  # that began last evening
        ("2026-11-25T06:00", "", "night 2026-11-24"),  # as the shifts change
        ("2026-11-25T06:10", "", "night 2026-11-24"),
        ("2026-11-25T01:59", "", "day 2026-11-24"),
        ("2026-11-25T22:00", "", "day 2026-11-25"),  # as the night shift begins
        ("2026-11-25T22:00", "--shift night", "night 2026-11-24"),
        ("2026-11-26T12:00", "", "night 2026-11-25"),  # a holiday
        ("2026-11-28T12:00", "", "day 2026-11-27"),  # Saturday; no night shift on Friday
        ("2026-11-28T12:00", "--shift night", "night 2026-11-25"),  # none on the 26th and 27th
        ("2026-11-30T05:00", "--shift day", "day 2026-11-27"),  # Monday before it begins
        ("2026-11-25T14:45", "--date 2026-11-23", "day 2026-11-23"),
        ("2026-11-25T14:45", "--shift night --date 2026-11-23", "night 2026-11-23"),
        ("2026-11-25T14:45", "--shift day --date 2026-11-22", "day 2026-11-22"),  # on a Sunday
    ],
)
def test_the_last_shift_that_is_half_over_is_meant(
    run: Command, now: str, options: str, slot: str
) -> None:
    told = run.done("log", "TP-1", "--hits", "5", *options.split(), now=now)
    assert told == f"entry 1: TP-1 {slot}: 5 hits\n"


def test_a_note_that_looks_like_an_instant_is_shown_as_typed(run: Command) -> None:
    """A stop's instants are shown in shop time, five hours behind."""
    run.done("stop", "TP-1", "--cause", "leak", "--from", "2026-11-25T10:00Z",
             "--note", "2026-11-25T10:00:00Z")  # fmt: skip
    told = " ".join(run.done("entries").split())
    assert "started 2026-11-25 05:00" in told
    assert "note 2026-11-25T10:00:00Z" in told


def test_a_night_shift_belongs_to_the_date_on_which_it_began(run: Command) -> None:
    run.done("log", "TP-1", "--hits", "5000", now="2026-11-25T14:30")
    run.done("log", "TP-1", "--hits", "7000", now="2026-11-25T03:00")

    def hits(on: str) -> int:
        return int(run.json("usage", "--on", on)[0]["usage"] or 0)

    assert [hits("2026-11-23"), hits("2026-11-24"), hits("2026-11-25")] == [0, 7000, 12000]


def test_the_same_figures_twice_are_remarked(run: Command) -> None:
    run.done("log", "TP-1", "--hits", "5000")
    told = run("log", "TP-1", "--hits", "5000")
    assert (told.status, told.err) == (
        0,
        "entry 1 has the same figures for that shift; "
        "if it was typed twice: pmtrack void 1 --why 'typed twice'\n",
    )


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("--dial hits=5000 --at 2026-11-25T07:00", "--dial hits=6000 --at 2026-11-25T08:00"),
        ("--parts 10 --material mild", "--parts 10 --material stainless"),
        ("--hits 10 --program KIOSK-DOOR", "--hits 9 --program KIOSK-DOOR --material stainless"),
        ("--dial hours=5", "--parts 20"),
        ("--hits 10", "--parts 20"),  # the hits at the machine, the parts later
        ("--scrap 1", "--parts 20"),
        ("--hits 10", "--hits 10 --shift night --date 2026-11-24"),
    ],
)
def test_another_run_of_the_same_shift_is_not_remarked(
    run: Command, first: str, second: str
) -> None:
    run.done("log", "TP-1", *first.split())
    assert run("log", "TP-1", *second.split()).err == ""


@pytest.mark.parametrize(
    ("first", "second", "has"),
    [
        ("--hits 10", "--hits 10 --parts 5", "10 hits"),
        ("--hits 10 --parts 5 --scrap 1", "--hits 11 --parts 5", "10 hits, 5 parts, 1 scrap"),
        ("--parts 9 --material mild", "--parts 20", "9 parts, mild"),
        ("--parts 9 --dial hours=5", "--parts 20 --dial hours=6", "9 parts"),
        ("--scrap 1", "--scrap 2", "1 scrap"),
    ],
)
def test_a_shift_that_is_logged_already_is_remarked(
    run: Command, first: str, second: str, has: str
) -> None:
    run.done("log", "TP-1", *first.split())
    told = run("log", "TP-1", *second.split())
    assert (told.status, told.err) == (
        0,
        f"entry 1 has {has} for that shift already, and both count; "
        "if it is the same run: pmtrack void 1 --why 'logged anew'\n",
    )
    asked = run("log", "TP-1", stdin="")
    assert f"entry 1 has {has} for that shift already\n" in asked.err


def test_who_makes_parts_on_a_machine_that_is_down_is_told(run: Command) -> None:
    run.done("stop", "TP-1", "--cause", "turret index", "--from", "2026-11-24T09:00")
    told = run("log", "TP-1", "--hits", "5")
    assert told.err == (
        "TP-1 is down since 2026-11-24 09:00 (turret index, entry 1); "
        "if it runs: pmtrack restart TP-1 --at WHEN\n"
    )
    run.done("restart", "TP-1", "--at", "2026-11-25T06:00")
    told = run("log", "TP-1", "--shift", "night", "--date", "2026-11-24", "--hits", "5")
    assert told.err == (
        "TP-1 was down from 2026-11-24 09:00 to 2026-11-25 06:00 (turret index, entry 1); "
        "check machine and date\n"
    )
    run.done("stop", "TP-1", "--cause", "no air", "--from", "2026-11-25T14:00")
    told = run("log", "TP-1", "--hits", "6", "--material", "stainless")
    assert "is down" not in told.err  # it ran before that


def test_who_makes_parts_on_a_machine_out_of_service_is_told(run: Command) -> None:
    run.done("idle", "PB-1", "--why", "drive out", "--at", "2026-11-24T09:00")
    told = run("log", "PB-1", "--parts", "5")
    assert told.err == (
        "PB-1 is out of service since 2026-11-24 09:00 (entry 1); "
        "if it runs: pmtrack back PB-1 --at WHEN\n"
    )
    run.done("back", "PB-1", "--at", "2026-11-25T14:30")
    told = run("log", "PB-1", "--count", "cycles=5")
    assert told.err == (
        "PB-1 was out of service from 2026-11-24 09:00 to 2026-11-25 14:30 (entry 1); "
        "check machine and date\n"
    )
    run.done("log", "PB-1", "--shift", "day", "--date", "2026-11-24", "--parts", "5")


@pytest.mark.parametrize("typed", ["\n\n2.5\n310\n\n\n", "\n\n-1\n310\n\n\n", "\n\n310\n2.5\n\n\n"])
def test_what_cannot_be_made_is_asked_for_again_at_once(run: Command, typed: str) -> None:
    told = run("log", "TP-1", stdin=typed)
    assert (told.status, told.out) == (0, "entry 1: TP-1 day 2026-11-25: 310 parts\n")
    assert "are whole: '2.5' is none" in told.err or "good parts cannot be below 0" in told.err


def test_a_program_that_is_not_known_is_asked_for_again(run: Command) -> None:
    told = run("log", "TP-1", stdin="\n\n310\n\nDOOR\nkiosk-door\n")
    assert (told.status, told.out) == (0, "entry 1: TP-1 day 2026-11-25: 310 parts, KIOSK-DOOR\n")
    assert "no program 'DOOR'; the shop file has KIOSK-DOOR" in told.err


def test_hits_of_a_tool_that_is_not_fitted_are_taken_with_a_warning(run: Command) -> None:
    told = run("log", "TP-1", "--parts", "10", "--program", "KIOSK-DOOR")
    assert (told.status, told.err) == (
        0, "hits taken for tools in no station: RD-10; 'pmtrack fit TOOL --station STATION'\n"
    )  # fmt: skip
    assert run.json("tooling")[0]["wear_hits"] == 140  # 10 parts of 14 hits


def test_a_dial_that_started_over_and_a_new_counter(run: Command) -> None:
    def hits() -> int:
        return int(run.json("usage")[0]["usage"])

    def dial(value: int, at: str, *marks: str) -> None:
        typed = ["--dial", f"hits={value}", "--at", f"2026-11-25T{at}", *marks]
        assert run("log", "TP-1", *typed).status == 0

    dial(9_999_000, "07:00")
    assert hits() == 9_999_000
    run.refused(["log", "TP-1", "--dial", "hits=500"], 3, "say --wrapped hits if the counter start")
    dial(500, "08:00", "--wrapped", "hits")  # wraps at 10,000,000
    assert hits() == 10_000_500
    dial(0, "09:00", "--exchanged", "hits")
    assert hits() == 10_000_500
    dial(700, "10:00")
    assert hits() == 10_001_200


def test_a_stop_stands_until_the_restart(run: Command) -> None:
    told = run.done("stop", "TP-1", "--cause", "hydraulic leak", "--from", "2026-11-25T09:00")
    assert told == "entry 1: TP-1 is down; 'pmtrack restart TP-1' when it runs again\n"
    told = run.done("restart", "TP-1", "--at", "2026-11-25T11:00")
    assert told == "entry 2: TP-1 runs again after hydraulic leak (entry 1)\n"
    run.refused(["restart", "TP-1"], 3, "TP-1 has no running stop then; log one that is over with")


def test_a_stop_that_is_over_is_logged_after_the_fact(run: Command) -> None:
    told = run.done("stop", "TP-1", "--cause", "die broke", "--from", "2026-11-24T09:00",
                    "--to", "2026-11-24T10:30")  # fmt: skip
    assert told == "entry 1: TP-1 stopped from 2026-11-24T09:00 to 2026-11-24T10:30\n"
    run.done("stop", "TP-1", "--cause", "service", "--planned", now="2026-11-25T08:00")
    second = run("stop", "TP-1", "--cause", "no air", now="2026-11-25T09:00")
    assert second.err == (
        "TP-1 was down already, for service (entry 2); a restart ends all of them\n"
    )
    assert run.done("restart", "TP-1") == (
        "entry 4: TP-1 runs again after service (entry 2), no air (entry 3)\n"
    )
    # and a restart that was forgotten does not end what began after it
    run.refused(["restart", "TP-1", "--at", "2026-11-25T07:59"], 3, "no running stop then")


def test_a_restart_told_too_late_is_put_right_by_an_earlier_one(run: Command) -> None:
    run.done("stop", "TP-1", "--cause", "leak", "--from", "2026-11-25T09:00")
    run.done("restart", "TP-1", "--at", "2026-11-25T11:00")
    told = run.done("restart", "TP-1", "--at", "2026-11-25T09:40")
    assert told == "entry 3: TP-1 runs again after leak (entry 1)\n"
    run.refused(["restart", "TP-1", "--at", "2026-11-25T10:00"], 3, "no running stop then")
    period = ["--from", "2026-11-25", "--to", "2026-11-25", "--machine", "TP-1"]
    (machine,) = run.json("report", *period)["machines"]
    assert machine["unplanned_hours"] == pytest.approx(2 / 3)


def test_a_stop_typed_twice_is_remarked(run: Command) -> None:
    stop = ["stop", "TP-1", "--cause", "leak", "--from", "2026-11-24T09:00"]
    run.done(*stop, "--to", "2026-11-24T09:40")
    run.done("stop", "TP-1", "--cause", "no air", "--from", "2026-11-24T09:00",
             "--to", "2026-11-24T09:40")  # fmt: skip
    told = run(*stop, "--to", "2026-11-24T09:40")
    assert told.err == (
        "entry 1 says the same; if it was typed twice: pmtrack void 1 --why 'typed twice'\n"
    )


def test_what_is_crossed_out_is_told_with_what_that_leaves(run: Command) -> None:
    run.done("done", "TP-1/monthly", "--measure", "pump-pressure=160", "--follow-up", "hose")
    run.done("log", "TP-1", "--hits", "500")
    told = run("void", "1", "--why", "it was the press brake")
    assert told.out == (
        "entry 4: entry 1 is crossed out: completion; 2026-11-25 14:45; TP-1/monthly; "
        "pump-pressure 160\n"
        "  TP-1/monthly is now due: every 1 month, due today\n"
    )
    assert told.err == (
        "TP-1/job-2, found then, stays on the list; "
        "if it goes too: pmtrack void 2 --why 'not found'\n"
    )
    assert run.done("void", "3", "--why", "typed twice") == (
        "entry 5: entry 3 is crossed out: shift; 2026-11-25 14:30; TP-1; day; hits 500\n"
    )


def test_the_entries_are_listed_newest_last(run_worked: Command) -> None:
    assert trimmed(run_worked.done("entries", "--machine", "TP-1", "--last", "3")) == [
        "Entry  Kind        When              By    What",
        "    6  tool-event  2026-11-24 06:00  Dana  RD-10; fit; TP-1; station T12",
        "    9  job         2026-11-25 10:05  Dana  TP-1; hose; found_in 3; wanted",
        " " * 43 + "2026-12-02",
        "   10  completion  2026-11-25 14:45  Dana  TP-1/job-9",
    ]
    assert [e["entry"] for e in run_worked.json("entries")] == list(range(1, 11))
    assert [e["entry"] for e in run_worked.json("entries", "--machine", "PB-1")] == [4, 7]
    assert "CROSSED OUT  PB-1; day; cycles 310" in run_worked.done("entries")


def test_a_completion_of_a_date_is_listed_under_that_date(run: Command) -> None:
    run.done("done", "PB-1/weekly", "--at", "2026-11-24")
    assert "2026-11-24" in run.done("entries")


MISTAKES = [
    ["log", "TP-1", "--hits", "12345"],
    ["log", "TP-1", "--dial", "hits=1205350", "--at", "2026-11-25T14:45"],
    ["log", "TP-1", "--parts", "310", "--program", "KIOSK-DOOR"],
    ["log", "PB-1", "--shift", "day", "--date", "2026-11-24", "--count", "cycles=900"],
    ["done", "TP-1/monthly", "--dial", "hours=2500"],
    ["done", "TP-1/half-year", "--at", "2026-11-20"],
    ["defer", "TP-1/monthly", "--until", "2026-12-04", "--why", "rush"],
    ["idle", "TP-1", "--why", "drive out"],
    ["back", "FE-1"],
    ["stop", "TP-1", "--cause", "leak", "--from", "2026-11-25T09:00"],
    ["restart", "PB-1", "--at", "2026-11-25T14:00"],
    ["job", "TP-1", "hose"],
    ["sharpen", "RD-10", "--mm", "0.2", "--why", "planned"],
    ["fit", "SQ-5", "--station", "T13"],
    ["takeout", "RD-10"],
    ["scrap", "RD-10"],
]


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_mistake_crossed_out_gives_the_former_answers(
    run_worked: Command, mistake: list[str]
) -> None:
    def answers() -> list[object]:
        period = ["--from", "2026-11-01", "--to", "2026-11-30"]
        return [
            run_worked.json("today", "--all"),
            run_worked.json("today", "--all", "--on", "2026-12-10"),
            run_worked.json("usage"),
            run_worked.json("tooling"),
            run_worked.json("report", *period),
        ]

    before = answers()
    told = run_worked(*mistake)
    assert told.status == 0
    assert told.out.startswith("entry 11: ")
    assert answers() != before
    told = run_worked("void", "11", "--why", "typed for the wrong machine")
    assert told.status == 0
    assert told.out.startswith("entry 12: entry 11 is crossed out: ")
    assert answers() == before
    crossed, by = run_worked.json("entries", "--last", "2")
    assert (crossed["voided"], by["target"]) == (True, 11)
    assert by["why"] == "typed for the wrong machine"
    assert run_worked("verify").status == 0


def test_a_dial_on_which_later_ones_rest_is_crossed_out_last(run: Command) -> None:
    for dial in (
        ["hits=5000", "--at", "2026-11-25T07:00"],
        ["hits=0", "--at", "2026-11-25T08:00", "--exchanged", "hits"],
        ["hits=300", "--at", "2026-11-25T09:00"],
    ):
        assert run("log", "TP-1", "--dial", *dial).status == 0
    run.refused(["void", "2", "--why", "x"], 3, "cross out entry 3 first")
    run.done("void", "3", "--why", "x")
    run.done("void", "2", "--why", "x")
    assert run.json("usage")[0]["usage"] == 5000


def test_a_machine_whose_idle_was_crossed_out_can_be_taken_out_again(run: Command) -> None:
    run.done("idle", "PB-1", "--why", "drive out", "--at", "2026-11-20T08:00")
    run.done("back", "PB-1", "--at", "2026-11-23T08:00")
    told = run("void", "1", "--why", "it was PB-2")
    if told.status == 3:  # the return rests on it
        assert "cross out entry 2 first" in told.err
        run.done("void", "2", "--why", "it was PB-2")
        run.done("void", "1", "--why", "it was PB-2")
    run.done("idle", "PB-1", "--why", "waiting for a drive")
    run.refused(["idle", "PB-1", "--why", "again"], 3, "PB-1 is out of service since")


def test_a_stop_entered_late_tells_that_it_is_over(run: Command) -> None:
    run.done("stop", "TP-1", "--cause", "leak", "--from", "2026-11-24T08:00")
    run.done("restart", "TP-1", "--at", "2026-11-24T10:00")
    told = run.done("stop", "TP-1", "--cause", "no air", "--from", "2026-11-24T09:00")
    assert "is down" not in told  # the restart of 10:00 ended it too
    assert "2026-11-24T10:00" in told


def test_entries_tell_a_dial_from_a_count_and_what_a_job_asks_for(run: Command) -> None:
    run.done("log", "TP-1", "--hits", "900", "--dial", "hits=8100000", "--dial", "hours=12.5")
    run.done("job", "TP-1", "hose", "--wanted", "2026-12-01", "--minutes", "40")
    run.done("job", "PB-1", "lamp")  # 7 days from now, as long as nobody says otherwise
    assert [" ".join(line.split()) for line in run.done("entries").split("\n")][1:-1] == [
        "1 shift 2026-11-25 14:30 Dana TP-1; day; hits 900; hits dial 8,100,000,",
        "hours dial 12.5",
        "2 job 2026-11-25 14:45 Dana TP-1; hose; wanted 2026-12-01; minutes 40",
        "3 job 2026-11-25 14:45 Dana PB-1; lamp; wanted 2026-12-02",
    ]
    jobs = run.json("entries")[1:]
    assert [(job["wanted"], job["minutes"]) for job in jobs] == [
        ("2026-12-01", 40),
        ("2026-12-02", None),
    ]


def test_what_names_a_job_that_is_crossed_out_can_be_crossed_out_too(run: Command) -> None:
    run.done("job", "TP-1", "hose")
    run.done("done", "TP-1/job-1")
    run.done("void", "1", "--why", "not found")
    told = run.done("void", "2", "--why", "typed for another job")
    assert told.startswith("entry 4: entry 2 is crossed out: completion; ")


def test_a_tool_that_sat_there_in_the_shift_is_no_loose_one(run: Command) -> None:
    """It was taken out in the evening, to be sharpened."""
    run.done("fit", "RD-10", "--station", "T12", "--at", "2026-11-24T06:00")
    run.done("takeout", "RD-10", "--at", "2026-11-24T18:00")
    made = ["log", "TP-1", "--parts", "3", "--program", "KIOSK-DOOR", "--date", "2026-11-24"]
    run.done(*made, "--shift", "day")
    told = run(*made, "--shift", "night")
    assert "hits taken for tools in no station: RD-10" in told.err
