"""A technician's day: the list, why, done, findings, put off, out of service and back."""

from datetime import date, timedelta

import pytest

from tests.command import Command, assert_fits, trimmed

LIST = """\
Wednesday 2026-11-25: 1 overdue, 1 due, 0 soon
State    Task          What, and why                                         Min
overdue  FE-1/look     Portable extinguishers, monthly visual check           15
                       Mon  2 Nov: every month on the first Monday, 23 d
                       past due
                       demanded by 29 CFR 1910.157(e)(2)
due      TP-1/monthly  Monthly in-house service                               90
                       Wed 25 Nov: every 1 month, due today
                       bring filter element, Lint-free cloths

Before any job lock out and tag out; 'pmtrack why TASK' has its cautions, steps
and parts. Local codes, the maker's manual and licensed trades go before this."""

# 25 October + 1 month = 25 November, a working day. 10 % of 31 days: lead 3, grace 3 days.
WHY = """\
TP-1/monthly  Monthly in-house service
due on Wednesday 2026-11-25; Turret punch press

Why
  every 1 month: due
    2026-10-25 (last_done of TP-1/monthly) + 1 month = Wed 2026-11-25
    work by Wed 2026-11-25; soon from 2026-11-22 (lead 3 d), overdue after
      2026-11-28 (grace 3 d)

Cautions
  Lock out and tag out before opening guards; see procedure LP-04.
  Lockout/tagout by the shop's procedure, with stored energy released, before
    guards come off or hands go in. The maker's manual and local codes go before
    this sheet, which licenses nobody: electrical, gas, pressure and lifting
    work is for the trades licensed for it.

Steps
  1. Drain the air filter.
  2. Pump pressure at idle: between 150 and 170 bar (record as pump-pressure)

Bring
  filter element
  Lint-free cloths"""


def test_the_list_of_the_day_tells_what_is_due_and_why(run: Command) -> None:
    assert trimmed(run.done("today")) == LIST.split("\n")


def test_a_machine_that_stands_is_on_the_list_until_it_runs(run: Command) -> None:
    run.done("stop", "TP-1", "--cause", "turret index", "--from", "2026-11-24T09:00")
    told = trimmed(run.done("today"))
    title = "Machines that are down ('pmtrack restart MACHINE' when it runs again)"
    at = told.index(title)
    assert told[at + 1] == "  TP-1  since Tue 24 Nov 09:00: turret index (entry 1)"
    assert run.json("today")["down"] == [
        {
            "machine": "TP-1", "since": "2026-11-24T14:00:00Z", "cause": "turret index",
            "planned": False, "entry": 1,
        }
    ]  # fmt: skip
    assert run.json("today", "--on", "2026-11-23")["down"] == []
    run.done("restart", "TP-1")
    assert run.json("today")["down"] == []
    assert title not in run.done("today")


@pytest.mark.parametrize(
    ("deeds", "down"),
    [
        ("stop TP-1 --cause a --from 2026-11-24T09:00", [1]),
        ("stop TP-1 --cause a --from 2026-11-24T09:00 --to 2026-11-24T10:00", []),
        ("stop TP-1 --cause a --from 2026-11-24T09:00 | void 1 --why no", []),
        ("stop TP-1 --cause a --from 2026-11-24T09:00 | restart TP-1 | void 2 --why no", [1]),
        ("stop TP-1 --cause a | restart TP-1", []),  # at one instant, told in that order
        ("stop TP-1 --cause a --from 2026-11-24T09:00 | restart TP-1 | stop TP-1 --cause b", [3]),
        ("stop PB-1 --cause a | stop TP-1 --cause b | stop TP-1 --cause c", [1, 2, 3]),
    ],
)
def test_which_machines_are_down(run: Command, deeds: str, down: list[int]) -> None:
    for deed in deeds.split(" | "):
        assert run(*deed.split()).status == 0
    assert [stop["entry"] for stop in run.json("today")["down"]] == down


@pytest.mark.parametrize(
    "words",
    [
        "log tp-1 --shift Night --date 2026-11-24 --hits 5",
        "log pb-1 --parts 5",
        "log TP-1 --parts 5 --program kiosk-door",
        "stop tp-1 --cause leak",
        "idle pb-1 --why broken",
        "job Tp-1 hose",
        "done tp-1/MONTHLY",
        "why tp-1/monthly",
        "why rd-10",
        "defer TP-1/Monthly --until 2026-12-01 --why rush",
        "entries --machine tp-1",
        "fit rd-10 --station T12 --machine tp-1",
        "tooling --machine tp-1",
        "log TP-1 --parts 5 --material STAINLESS",
        "report --from 2026-11-01 --to 2026-11-25 --machine tp-1",
        "trend tp-1",
        "advice tp-1/monthly",
        "advice --machine tp-1",
        "backtest tp-1",
        "setup kiosk-door --parts 10 --material Stainless --machine tp-1",
        "pin tp-1/half-year 2027-01-20 --why agreed",
    ],
)
def test_a_code_is_known_in_small_letters_too(run: Command, words: str) -> None:
    assert run(*words.split()).status == 0


def test_a_job_called_like_one_on_the_list_is_remarked(run: Command) -> None:
    run.done("job", "TP-1", "hose")
    run.done("job", "PB-1", "hose")
    told = run("job", "TP-1", "hose")
    assert told.err.startswith("TP-1/job-1 is called the same and still to be done; ")
    assert told.err.endswith("pmtrack void 3 --why 'typed twice'\n")
    run.done("done", "TP-1/job-1")
    run.done("done", "TP-1/job-3")
    run.done("job", "TP-1", "hose")


def test_nothing_due_is_said_in_words(run: Command) -> None:
    run.done("done", "FE-1/look")
    run.done("done", "TP-1/monthly", "--measure", "pump-pressure=160")
    assert run.done("today") == (
        "Wednesday 2026-11-25: 0 overdue, 0 due, 0 soon\n"
        "Nothing is due. 'pmtrack today --within 14' looks two weeks ahead.\n"
    )


def test_why_shows_rule_arithmetic_cautions_steps_and_parts(run: Command) -> None:
    assert trimmed(run.done("why", "TP-1/monthly")) == WHY.split("\n")


def test_why_of_a_usage_task_shows_the_entries_it_rests_on(run: Command) -> None:
    run.done("log", "PB-1", "--shift", "day", "--count", "cycles=1200")
    shown = run.done("why", "PB-1/belt")
    # (5 x 900 + 1,200) / 6 = 950 a working day; (20,000 - 1,200) / 950 = 19.79
    assert "    1,200 entered up to 2026-11-25\n" in shown
    assert "    18,800 / 950 = 19.79, so working day 20 after it: Mon 2027-01-04\n" in shown
    assert trimmed(shown)[-2:] == [
        "Entries it rests on",
        "       1  count       2026-11-25  1,200 cycles",
    ]


def test_a_task_done_leaves_the_list_and_tells_when_it_comes_back(run: Command) -> None:
    told = run.done("done", "TP-1/monthly", "--minutes", "85", "--measure", "pump-pressure=162")
    # 25 December lies in the shutdown that begins on the 24th
    assert told == (
        "entry 1: TP-1/monthly done; next due Fri 2026-12-25, work by 2026-12-23 (1 month)\n"
    )
    # overdue first, then by the share of the interval that is gone: 166 of 183 days, 14,400 of
    # 20,000 cycles, 5 of 7 days twice, none
    assert list(run.states()) == [
        "FE-1/look", "TP-1/half-year", "PB-1/belt", "PB-1/weekly", "TP-1/weekly", "TP-1/monthly"
    ]  # fmt: skip
    assert run.states()["TP-1/monthly"] == "ok"
    assert run.states(now="2026-12-22T08:00")["TP-1/monthly"] == "soon"


def test_a_measurement_left_out_is_named(run: Command) -> None:
    told = run("done", "TP-1/monthly")
    assert (told.status, told.err) == (0, "Not recorded: pump-pressure (--measure name=value)\n")


@pytest.mark.parametrize(
    ("value", "told"),
    [
        ("149.999", "  OUT OF LIMITS: pump-pressure 149.999 bar is below 150 bar\n"),
        ("150", ""),
        ("170", ""),
        ("170.5", "  OUT OF LIMITS: pump-pressure 170.5 bar is above 170 bar\n"),
    ],
)
def test_a_measurement_out_of_limits_is_shouted(run: Command, value: str, told: str) -> None:
    said = run("done", "TP-1/monthly", "--measure", f"pump-pressure={value}")
    assert said.status == 0
    assert said.out.partition("\n")[2] == told
    hint = "Put the repair on the list: pmtrack job TP-1 'what is to be done' --found-in 1\n"
    assert said.err == (hint if told else "")


def test_a_finding_stays_on_the_list_until_it_is_mended(run: Command) -> None:
    told = run.done(
        "done", "TP-1/monthly", "--measure", "pump-pressure=172",
        "--follow-up", "adjust the relief valve", "--follow-up", "order a gauge",
    )  # fmt: skip
    assert trimmed(told)[2:] == [
        "  TP-1/job-2 is on the list until it is done: adjust the relief valve",
        "  TP-1/job-3 is on the list until it is done: order a gauge",
    ]
    # wanted by 2 December, seven days on; a job has 7 days of lead and no grace
    assert run.states()["TP-1/job-2"] == "soon"
    assert run.states(now="2026-12-02T08:00")["TP-1/job-2"] == "due"
    assert run.states(now="2027-03-01T08:00")["TP-1/job-2"] == "overdue"
    assert run.done("done", "TP-1/job-2").startswith("entry 4: TP-1/job-2 done")
    for day in ("2026-11-25", "2026-12-02", "2027-03-01"):
        names = set(run.states(now=f"{day}T23:00"))
        assert "TP-1/job-2" not in names
        assert "TP-1/job-3" in names


def test_a_job_is_on_no_list_of_a_day_before_it_was_found(run: Command) -> None:
    before = run.json("today", "--all", "--on", "2026-11-24")
    run.done("job", "TP-1", "replace the hose", "--at", "2026-11-25T08:00")
    assert run.json("today", "--all", "--on", "2026-11-24") == before


def test_a_job_that_was_done_later_is_on_the_list_of_an_earlier_day(run: Command) -> None:
    run.done("job", "TP-1", "replace the hose", "--at", "2026-11-20T08:00")
    before = run.json("today", "--all", "--on", "2026-11-24")
    run.done("done", "TP-1/job-1", "--at", "2026-11-25T08:00")
    assert "TP-1/job-1" in {item["task"] for item in before["items"]}
    assert run.json("today", "--all", "--on", "2026-11-24") == before


def test_a_job_has_a_date_by_which_it_is_wanted(run: Command) -> None:
    told = run.done("job", "PB-1", "mend the foot switch", "--wanted", "2026-11-30")
    assert told == "entry 1: PB-1/job-1 is on the list, wanted by 2026-11-30\n"
    assert run.states(now="2026-11-30T08:00")["PB-1/job-1"] == "due"
    assert run.states(now="2026-12-01T08:00")["PB-1/job-1"] == "overdue"


def test_a_task_that_covers_another_settles_it_too(run: Command) -> None:
    told = run.done("done", "TP-1/half-year", "--at", "2026-11-24", "--dial", "hours=1900")
    assert trimmed(told) == [
        "entry 1: TP-1/half-year done; next due Mon 2027-05-24 (6 months)",
        "  settles TP-1/monthly too; next due Thu 2026-12-24, work by 2026-12-23 (1 month)",
    ]


def test_a_completion_entered_late_does_not_move_a_later_one(run: Command) -> None:
    run.done("done", "PB-1/weekly", "--at", "2026-11-25T08:00")
    told = run.done("done", "PB-1/weekly", "--at", "2026-11-23")
    assert trimmed(told)[-1] == (
        "  a later completion stands already, so the next due date did not move"
    )


def test_a_job_recorded_twice_on_a_day_is_taken_and_told(run: Command) -> None:
    run.done("done", "PB-1/weekly", "--at", "2026-11-24T08:00")
    run.done("done", "PB-1/weekly", "--at", "2026-11-25T08:00")
    again = run("done", "PB-1/weekly", "--at", "2026-11-25T09:30")
    assert (again.status, again.err) == (
        0,
        "PB-1/weekly was recorded on that day already, as entry 2; if it is the same job:"
        " pmtrack void 3 --why 'recorded twice'\n",
    )
    run.done("void", "3", "--why", "recorded twice")
    run.done("void", "2", "--why", "it was not done")
    run.done("done", "PB-1/weekly", "--at", "2026-11-25T10:00")  # what is crossed out is no job


def test_a_task_put_off_comes_back_after_its_date(run: Command) -> None:
    told = run.done("defer", "TP-1/monthly", "--until", "2026-12-04", "--why", "rush order")
    assert told == "entry 1: TP-1/monthly is put off through 2026-12-04\n"
    assert run.states()["TP-1/monthly"] == "deferred"
    assert run.states(now="2026-12-04T23:59")["TP-1/monthly"] == "deferred"
    # 25 November + 3 days of grace were over on 29 November
    assert run.states(now="2026-12-05T00:00")["TP-1/monthly"] == "overdue"
    why = run.done("why", "TP-1/monthly")
    assert "put off through 2026-12-04: rush order (entry 1)" in why


def test_the_list_tells_until_when_and_why_a_task_is_put_off(run: Command) -> None:
    run.done("defer", "TP-1/monthly", "--until", "2026-12-04", "--why", "rush order")
    shown = run.done("today")
    assert "rush order" in shown
    assert "4 Dec" in shown or "2026-12-04" in shown


def test_a_later_deferral_takes_the_place_of_an_earlier_one(run: Command) -> None:
    run.done("defer", "TP-1/monthly", "--until", "2026-12-31", "--why", "rush order")
    run.done("defer", "TP-1/monthly", "--until", "2026-12-01", "--why", "parts came early",
             now="2026-11-25T15:00")  # fmt: skip
    assert run.states(now="2026-12-01T08:00")["TP-1/monthly"] == "deferred"
    assert run.states(now="2026-12-02T08:00")["TP-1/monthly"] == "overdue"


def test_a_completion_ends_a_deferral(run: Command) -> None:
    run.done("defer", "PB-1/weekly", "--until", "2026-12-31", "--why", "rush order")
    run.done("done", "PB-1/weekly", now="2026-11-27T08:00")
    assert run.states(now="2026-12-04T08:00")["PB-1/weekly"] == "due"


def test_what_a_law_demands_is_not_put_off_past_its_due_date(run: Command) -> None:
    run.done("done", "FE-1/look")  # settles November's; the next one is 7 December
    arguments = ["defer", "FE-1/look", "--why", "hall closed", "--until"]
    message = (
        "FE-1/look is demanded by 29 CFR 1910.157(e)(2): it cannot be put off past its due date, "
        "2026-12-07; do it, or take the machine out of service\n"
    )
    told = run.refused([*arguments, "2026-12-08"], 3, message)
    assert told.err == message
    run.done(*arguments, "2026-12-07")


def test_a_machine_out_of_service_pauses_its_tasks(run: Command) -> None:
    told = run.done("idle", "FE-1", "--why", "hall cleared")
    assert told == "entry 1: FE-1 is out of service; 'pmtrack back FE-1' ends it\n"
    assert run.states()["FE-1/look"] == "paused"
    assert run.states(now="2027-06-01T08:00")["FE-1/look"] == "paused"
    told = run.done("back", "FE-1", now="2026-12-10T07:00")
    assert told == "entry 2: FE-1 is back in service; see 'pmtrack today'\n"
    assert run.states(now="2026-12-09T08:00")["FE-1/look"] == "paused"
    assert run.states(now="2026-12-10T08:00")["FE-1/look"] == "overdue"


def test_only_something_overdue_ends_with_status_4(run: Command) -> None:
    told = run("today", "--fail-overdue")
    assert told.status == 4
    assert trimmed(told.out) == LIST.split("\n")
    assert run("today").status == 0
    assert run("today", "--fail-overdue", "--json").status == 4
    assert run("today", "--on", "2026-11-02", "--fail-overdue").status == 0  # due, not overdue
    run.done("idle", "FE-1", "--why", "hall cleared")
    assert run("today", "--fail-overdue").status == 0


def test_within_adds_what_is_to_be_done_soon(run: Command) -> None:
    def listed(*arguments: str) -> set[str]:
        return {item["task"] for item in run.json("today", *arguments)["items"]}

    assert listed() == {"FE-1/look", "TP-1/monthly"}
    assert listed("--within", "1") == listed()
    assert listed("--within", "2") == listed() | {"PB-1/weekly", "TP-1/weekly"}  # by Friday 27th
    assert listed("--within", "9") == listed("--within", "2") | {"PB-1/belt"}  # by 4 December
    assert len(listed("--all")) == 6


@pytest.mark.parametrize("days", range(0, 400, 23))
def test_the_list_fits_the_paper_on_any_day(run_worked: Command, days: int) -> None:
    on = str(date(2026, 11, 20) + timedelta(days))
    run_worked.done("job", "TP-1", "replace the cracked hose at the ram and " + "x" * 120)
    for arguments in (["today", "--all"], ["usage"], ["tooling"], ["why", "TP-1/half-year"]):
        assert_fits(run_worked.done(*arguments, "--on", on))


def test_a_job_is_not_done_before_it_was_found(run: Command) -> None:
    run.done("job", "TP-1", "replace the hose", "--at", "2026-11-24T08:00")
    run.refused(["done", "TP-1/job-1", "--at", "2026-11-20"], 3, "2026-11-24")


def test_done_tells_a_fixed_schedule_in_words(run: Command) -> None:
    told = run.done("done", "FE-1/look")
    assert told == (
        "entry 1: FE-1/look done; next due Mon 2026-12-07 (every month on the first Monday)\n"
    )


def test_a_usage_task_of_a_machine_out_of_service_says_so(run: Command) -> None:
    run.done("log", "PB-1", "--shift", "day", "--count", "cycles=100")
    run.done("idle", "PB-1", "--why", "hall cleared")
    words = "the machine is out of service: no due date until it is back"
    assert words in run.done("why", "PB-1/belt")
    assert words in " ".join(run.done("today", "--all").split())
