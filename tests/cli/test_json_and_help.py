"""What scripts and shells rely on: JSON fields, plain text, widths, help, versions, completion."""

import os
import pty
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from pmtrack import __version__
from tests.command import ESCAPE, NOW, PLAIN, SMALL_SHOP, Command, assert_fits

TEXT, MAYBE_TEXT = str, (str, type(None))
NUMBER, MAYBE_NUMBER = (int, float), (int, float, type(None))
WHOLE, MAYBE_WHOLE = int, (int, type(None))
YES_NO, LIST, MAYBE_LIST = bool, list, (list, type(None))

ITEM = {
    "task": TEXT, "machine": TEXT, "title": TEXT, "state": TEXT, "due_on": MAYBE_TEXT,
    "work_by": MAYBE_TEXT, "governs": TEXT, "used": MAYBE_NUMBER, "estimated": YES_NO,
    "due_range": MAYBE_LIST, "days_past_due": WHOLE, "authority": MAYBE_TEXT,
    "minutes": MAYBE_WHOLE, "crew": MAYBE_TEXT,
}  # fmt: skip
METER = {
    "machine": TEXT, "meter": TEXT, "usage": MAYBE_NUMBER, "last_entry": MAYBE_TEXT,
    "rate": MAYBE_NUMBER, "stale": YES_NO, "estimate": MAYBE_NUMBER, "unlogged": MAYBE_NUMBER,
}  # fmt: skip
TOOL = {
    "tool": TEXT, "wear_hits": NUMBER, "interval": NUMBER, "used": NUMBER,
    "sharpen_on": MAYBE_TEXT, "sharpenings_left": MAYBE_WHOLE, "mm_left": MAYBE_NUMBER,
    "end_of_life": MAYBE_TEXT, "order_by": MAYBE_TEXT,
}  # fmt: skip
MACHINE = {
    "machine": TEXT, "scheduled_hours": NUMBER, "planned_hours": NUMBER,
    "unplanned_hours": NUMBER, "busy_hours": NUMBER, "operating_hours": NUMBER,
    "availability": MAYBE_NUMBER, "share_up": MAYBE_NUMBER, "unplanned_stops": WHOLE,
    "mtbf_hours": MAYBE_NUMBER, "mtbf_low": MAYBE_NUMBER, "mtbf_high": MAYBE_NUMBER,
    "mttr_hours": MAYBE_NUMBER, "mttr_scheduled_hours": MAYBE_NUMBER, "hits": MAYBE_NUMBER,
    "good_parts": NUMBER, "scrap": NUMBER, "hits_per_scheduled_hour": MAYBE_NUMBER,
    "hits_per_operating_hour": MAYBE_NUMBER, "parts_per_scheduled_hour": MAYBE_NUMBER,
    "parts_per_operating_hour": MAYBE_NUMBER, "hits_lost_unplanned": MAYBE_NUMBER,
    "hits_lost_planned": MAYBE_NUMBER, "on_time_share": MAYBE_NUMBER,
}  # fmt: skip
ENTRY = {"entry": WHOLE, "kind": TEXT, "at": TEXT, "by": TEXT, "voided": YES_NO}


def assert_fields(record: dict[str, Any], fields: dict[str, Any]) -> None:
    """All the fields are there, with values of their types; a yes or no is no number."""
    assert fields.keys() <= record.keys()
    for name, kind in fields.items():
        value = record[name]
        assert isinstance(value, kind), name
        assert isinstance(value, bool) == (kind is bool), name


def test_the_json_of_today_has_the_agreed_fields(run_worked: Command) -> None:
    told = run_worked.json("today", "--all")
    assert told["on"] == "2026-11-25"
    assert len(told["items"]) == 6
    for item in told["items"]:
        assert_fields(item, ITEM)


def test_the_json_of_usage_has_the_agreed_fields(run_worked: Command) -> None:
    told = run_worked.json("usage")
    assert [(row["machine"], row["meter"]) for row in told] == [
        ("TP-1", "hits"), ("TP-1", "hours"), ("PB-1", "cycles")
    ]  # fmt: skip
    for row in told:
        assert_fields(row, METER)
    assert told[0]["last_entry"] == "2026-11-25T19:30:00Z"  # the end of the day shift, 14:30
    assert (told[1]["usage"], told[1]["last_entry"], told[1]["estimate"]) == (None, None, None)


def test_the_json_of_tooling_has_the_agreed_fields(run_worked: Command) -> None:
    told = run_worked.json("tooling")
    assert [row["tool"] for row in told] == ["RD-10", "SQ-5"]
    for row in told:
        assert_fields(row, TOOL)


def test_the_json_of_a_report_has_the_agreed_fields(run_worked: Command) -> None:
    told = run_worked.json("report", "--from", "2026-11-23", "--to", "2026-11-25")
    assert (told["from"], told["to"]) == ("2026-11-23", "2026-11-25")
    assert [row["machine"] for row in told["machines"]] == ["TP-1", "PB-1", "FE-1"]
    for row in told["machines"]:
        assert_fields(row, MACHINE)


def test_the_json_of_entries_has_the_agreed_fields(run_worked: Command) -> None:
    told = run_worked.json("entries")
    assert [row["entry"] for row in told] == list(range(1, 11))
    for row in told:
        assert_fields(row, ENTRY)
    own = {
        "shift": {"machine", "shift", "parts", "scrap", "program", "material", "counts"},
        "completion": {"task", "minutes", "measured"},
        "stop": {"machine", "started", "ended", "planned", "cause"},
        "idle": {"machine", "why"},
        "tool-event": {"tool", "event", "mm", "why", "machine", "station"},
        "void": {"target", "why"},
        "job": {"machine", "title", "found_in", "wanted", "minutes"},
    }
    assert {row["kind"] for row in told} == own.keys()
    for row in told:
        assert own[row["kind"]] <= row.keys()


def test_the_json_of_why_has_rule_evidence_and_arithmetic(run_worked: Command) -> None:
    told = run_worked.json("why", "TP-1/half-year")
    assert_fields(told, ITEM | {"rules": LIST, "evidence": LIST, "arithmetic": LIST})
    assert [rule["rule"] for rule in told["rules"]] == ["every 6 months", "every 2000 hours"]


@pytest.mark.parametrize("view", ["today --all", "usage", "tooling", "entries", "why TP-1/weekly"])
def test_json_goes_alone_to_standard_output_in_ascii(run_worked: Command, view: str) -> None:
    run_worked.done("job", "TP-1", "Schlauch prüfen ✓", "--by", "Łucja")
    told = run_worked(*view.split(), "--json")
    assert told.out.isascii()
    assert told.out.count("\n") == 1
    assert told.err == ""


COMMANDS = [
    "demo", "check", "apply", "today", "why", "done", "job", "defer", "idle", "back", "usage",
    "log", "stop", "restart", "entries", "void", "tooling", "sharpen", "fit", "takeout", "replace",
    "scrap", "calendar", "report", "backup", "restore", "verify", "unload", "load",
    "import",
]  # fmt: skip


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself_with_an_example(run: Command, command: str) -> None:
    told = run.done(command, "--help")
    example = f"  Example: pmtrack {'--store demo.db ' if command == 'demo' else ''}{command}"
    assert any(line.startswith(example) for line in told.splitlines())
    assert_fits(told)


def test_the_help_lists_every_command(run: Command) -> None:
    told = run.done("--help")
    lines = told.partition("Commands:")[2].splitlines()
    assert set(COMMANDS) <= {line.split()[0] for line in lines if line[2:3].strip()}
    assert [line for line in lines if line.endswith("...")] == []  # a line says all it has to say
    assert_fits(told)


def test_the_version_is_told(run: Command) -> None:
    assert run.done("--version") == f"pmtrack {__version__}\n"


@pytest.mark.parametrize(
    ("typed", "meant"), [("todya", "today"), ("dne", "done"), ("calender", "calendar")]
)
def test_a_slip_in_a_command_is_answered_with_what_was_meant(
    run: Command, typed: str, meant: str
) -> None:
    run.refused([typed], 2, f"No such command '{typed}'. Did you mean '{meant}'?")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_shell_is_told_how_to_complete(run: Command, shell: str) -> None:
    script = subprocess.run(
        [sys.executable, "-m", "pmtrack", "--show-completion", shell],
        capture_output=True, text=True, check=False,
        env=PLAIN | {"_TYPER_COMPLETE_TEST_DISABLE_SHELL_DETECTION": "1"},
    )  # fmt: skip
    assert script.returncode == 0
    assert "_PMTRACK_COMPLETE" in script.stdout


def completed(store: Path, line: str) -> list[str]:
    """What bash offers at the end of a line."""
    words = line.split(" ")
    told = subprocess.run(
        [sys.executable, "-m", "pmtrack"],
        capture_output=True, text=True, check=False,
        env=PLAIN | {
            "_PMTRACK_COMPLETE": "complete_bash", "COMP_WORDS": line,
            "COMP_CWORD": str(len(words) - 1), "PMTRACK_STORE": str(store),
        },
    )  # fmt: skip
    assert told.stderr == ""
    return told.stdout.split()


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("pmtrack ver", ["verify"]),
        ("pmtrack log ", ["TP-1", "PB-1", "FE-1"]),
        ("pmtrack done TP-1/", ["TP-1/weekly", "TP-1/monthly", "TP-1/half-year"]),
        ("pmtrack fit R", ["RD-10"]),
        ("pmtrack fit X", []),
    ],
)
def test_codes_are_completed(shop_store: Path, line: str, offered: list[str]) -> None:
    assert completed(shop_store, line) == offered


def test_completion_without_a_store_offers_nothing(tmp_path: Path) -> None:
    assert completed(tmp_path / "none.db", "pmtrack log ") == []


VIEWS = [
    ["today", "--all"], ["usage"], ["tooling"], ["entries"], ["why", "TP-1/half-year"],
    ["report", "--from", "2026-11-01", "--to", "2026-11-30"],
    ["report", "--from", "2026-11-01", "--to", "2026-11-30", "--machine", "TP-1"],
]  # fmt: skip


@pytest.mark.parametrize("view", VIEWS)
def test_piped_answers_are_plain_and_fit_the_paper(run_worked: Command, view: list[str]) -> None:
    assert_fits(run_worked.done(*view))
    assert_fits(run_worked.done(*view, env={"FORCE_COLOR": "1", "TERM": "xterm-256color"}))


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("columns", [60, 100, 132])
def test_a_narrower_or_wider_paper_is_respected(
    run_worked: Command, view: list[str], columns: int
) -> None:
    assert_fits(run_worked.done(*view, env={"COLUMNS": str(columns)}), columns)


@pytest.mark.parametrize("columns", ["0", "-5", "wide", "", "1", "99999"])
def test_a_paper_of_no_width_is_no_trouble(run_worked: Command, columns: str) -> None:
    told = run_worked("today", env={"COLUMNS": columns})
    assert told.status == 0
    assert "TP-1/monthly" in told.out or columns == "1"


@pytest.mark.parametrize("view", [["today", "--all"], ["usage"]])
def test_a_column_head_is_never_broken(run_worked: Command, view: list[str]) -> None:
    heads = {"today": "State", "usage": "Machine"}
    assert any(line.startswith(heads[view[0]]) for line in run_worked.done(*view).splitlines())


def on_a_terminal(store: Path, env: dict[str, str], *arguments: str) -> str:
    """What a command writes to a terminal."""
    leader, follower = pty.openpty()
    command = [sys.executable, "-m", "pmtrack", "--store", str(store), "--now", NOW, *arguments]
    with subprocess.Popen(command, stdout=follower, stdin=subprocess.DEVNULL,
                          env=PLAIN | {"TERM": "xterm-256color"} | env) as process:  # fmt: skip
        os.close(follower)
        pieces = []
        while True:
            try:
                piece = os.read(leader, 65536)
            except OSError:  # the other side is closed
                break
            if not piece:
                break
            pieces.append(piece)
        assert process.wait(timeout=30) == 0
    os.close(leader)
    return b"".join(pieces).decode()


def test_a_terminal_gets_colour_unless_it_is_not_wanted(worked_store: Path) -> None:
    coloured = on_a_terminal(worked_store, {}, "today", "--all")
    assert ESCAPE in coloured
    for state in ("due", "ok", "paused"):
        assert state in coloured  # never colour alone
    assert ESCAPE not in on_a_terminal(worked_store, {"NO_COLOR": "1"}, "today", "--all")
    assert ESCAPE not in on_a_terminal(worked_store, {"TERM": "dumb"}, "today", "--all")


def test_a_shop_file_may_be_read_from_anywhere(tmp_path: Path) -> None:
    run = Command(tmp_path / "x.db")
    link = tmp_path / "link.yaml"
    link.symlink_to(SMALL_SHOP)
    assert run.done("apply", str(link)).endswith("19 added, 0 changed, 0 retired\n")
