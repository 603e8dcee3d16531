"""Text that people type, by slip or on purpose: kept and shown as typed, never obeyed."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.command import ESCAPE, SMALL_SHOP, Command, assert_fits, dump

AS_TYPED = [
    "[bold]red[/bold]",
    "[/b]",
    "[link=file:///etc/passwd]x[/link]",
    ":warning: :smile:",
    "\\[bold]",
    "Robert'); DROP TABLE entry;--",
    'say "no"',
    "100 % of {0} {name} %s %n",
    "$(reboot) `reboot` ; | & > x",
    "-rf",
    "Łódź 日本語 ✓ 👩‍🔧",
    "e\u0301 \u00e9",
    "עברית",
    "a\tb",
]

REFUSED = [
    ("\x1b[31mred\x1b[0m", "holds characters that cannot be shown"),
    ("\x1b]0;title\x07", "holds characters that cannot be shown"),
    ("\x9b31m", "holds characters that cannot be shown"),
    ("a\x00b", "holds characters that cannot be shown"),
    ("back\x08space", "holds characters that cannot be shown"),
    ("\x7f", "holds characters that cannot be shown"),
    ("\ud800", "holds characters that cannot be shown"),
    ("\ue000", "holds characters that cannot be shown"),
    ("x" * 401, "401 characters long; keep it under 400"),
    ("x" * 100_000, "100000 characters long; keep it under 400"),
]

WAYS = [  # each takes one free text, and tells where in `entries --json` it is kept
    (["done", "PB-1/weekly", "--note"], "note"),
    (["done", "PB-1/weekly", "--by"], "by"),
    (["job", "TP-1", "--"], "title"),
    (["defer", "TP-1/monthly", "--until", "2026-12-04", "--why"], "why"),
    (["idle", "TP-1", "--why"], "why"),
    (["stop", "TP-1", "--cause"], "cause"),
    (["void", "1", "--why"], "why"),
    (["fit", "SQ-5", "--station"], "station"),
    (["log", "PB-1", "--count", "cycles=5", "--note"], "note"),
    (["replace", "SQ-5", "--note"], "note"),
]
JOB, TITLE = WAYS[2]
LONG = {"note"}


@pytest.mark.parametrize(
    ("command", "field", "text"),
    [
        *((JOB, TITLE, text) for text in AS_TYPED),
        *((command, field, "[/b] 'x' --") for command, field in WAYS),
    ],
)
def test_text_is_kept_and_shown_as_typed(
    run_worked: Command, command: list[str], field: str, text: str
) -> None:
    told = run_worked(*command, text)
    assert told.status == 0
    kept = " ".join(text.split())  # a tab is a blank
    assert run_worked.json("entries", "--last", "1")[0][field] == kept
    screen = run_worked.done("entries", "--last", "1")
    assert ESCAPE not in screen
    assert "".join(kept.split()) in "".join(screen.split()) or len(kept) > 20


@pytest.mark.parametrize(
    ("command", "field", "text", "message"),
    [
        *((JOB, TITLE, *row) for row in REFUSED),
        *((command, field, *row) for command, field in WAYS for row in (REFUSED[0], REFUSED[-1])),
    ],
)
def test_text_that_plays_with_the_terminal_is_refused(
    run_worked: Command, command: list[str], field: str, text: str, message: str
) -> None:
    if "characters long" in message:
        if field in LONG:
            return
        message = "characters long; keep it under"
    run_worked.refused([*command, text], 3, message)


def test_a_note_is_one_line_and_may_be_longer(run_worked: Command) -> None:
    run_worked.done("done", "PB-1/weekly", "--note", "one\ntwo\r\nthree\u2028four")
    assert run_worked.json("entries", "--last", "1")[0]["note"] == "one two three four"
    run_worked.done("done", "PB-1/weekly", "--at", "2026-11-24", "--note", "x" * 2000)
    assert_fits(run_worked.done("entries", "--last", "1"))
    message = "the note is 2001 characters long; keep it under 2000"
    run_worked.refused(["done", "PB-1/weekly", "--note", "x" * 2001], 3, message)


@pytest.mark.parametrize("text", ["\x1b[31mred\x07\x9b", "\ud800"])
@pytest.mark.parametrize(
    "command",
    ["why {0}", "today --on {0}", "{0}", "today --{0}", "today --within {0}", "log {0} --hits 1",
     "log TP-1 --hits {0}", "log TP-1 --dial {0}", "log TP-1 --dial {0}=1",
     "log TP-1 --count {0}=1",
     "log TP-1 --shift {0} --hits 1", "log TP-1 --parts 1 --program {0}", "void {0} --why x",
     "done TP-1/monthly --measure {0}=1", "sharpen {0} --mm 1 --why x", "calendar {0} --out x",
     "sharpen RD-10 --mm 1 --why {0}", "import {0} /dev/null", "check {0}", "apply {0}",
     "import shifts {0}", "report --from 2026-11-01 --to 2026-11-02 --machine {0}"],
)  # fmt: skip
def test_no_complaint_passes_an_escape_sequence_on(
    run_worked: Command, command: str, text: str
) -> None:
    before = dump(run_worked.store)
    told = run_worked(*(word.format(text) for word in command.split()))
    assert told.status in (2, 3)
    assert told.out == ""
    assert not {"\x1b", "\x9b", "\x07"} & set(told.err)
    assert dump(run_worked.store) == before


@pytest.mark.parametrize("name", ["\x1b[31mred\x07", "[bold]x"])
def test_the_name_of_a_file_passes_no_escape_sequence_on(
    run_worked: Command, tmp_path: Path, name: str
) -> None:
    shop, out = tmp_path / f"{name}.yaml", tmp_path / f"{name}.ics"
    shop.write_bytes(SMALL_SHOP.read_bytes())
    for arguments in (
        ["check", str(shop)],
        ["calendar", "2027-Q1", "--out", str(out)],
        ["backup", str(tmp_path / f"{name}.db")],
    ):
        told = run_worked(*arguments)
        assert told.status == 0
        assert not {"\x1b", "\x07"} & set(told.out + told.err)


def test_a_finding_with_markup_is_a_job_like_any_other(run_worked: Command) -> None:
    told = run_worked.done("done", "PB-1/weekly", "--follow-up", "[red]mend[/red] O'Ring")
    assert "PB-1/job-12 is on the list until it is done: [red]mend[/red] O'Ring" in told
    assert "[red]mend[/red] O'Ring" in run_worked.done("today")
    assert "[red]mend[/red] O'Ring" in run_worked.done("why", "PB-1/job-12")
    assert run_worked.done("done", "PB-1/job-12").startswith("entry 13: PB-1/job-12 done")


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.lists(st.sampled_from(
    ["today", "done", "log", "void", "why", "TP-1", "TP-1/monthly", "1", "--on", "--by", "--why",
     "--hits", "--dial", "hits=5", "2026-11-25", "--json", "-1", "--", "", "[b]", "\x1b", "--at",
     "--until", "defer", "stop", "--cause", "--from", "--to", "9" * 30, "--minutes", "entries",
     "--last", "fit", "RD-10", "--station", "sharpen", "--mm", "0.2", "planned", "--all", "ü"]
), max_size=7))  # fmt: skip
def test_whatever_is_typed_ends_with_a_status_and_a_sentence(
    run_worked: Command, typed: list[str]
) -> None:
    told = run_worked(*typed)
    assert told.status in (0, 2, 3)
    assert told.status == 0 or (told.err and not told.out)
    assert "\x1b" not in told.out + told.err
