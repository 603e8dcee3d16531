"""Before a job starts: `setup`, on a shop with two tools fitted and 4,000 doors made."""

from pathlib import Path

import pytest

from tests import run_shop
from tests.command import ESCAPE, Command, assert_fits, copied, trimmed

DOORS = ["setup", "KIOSK-DOOR", "--parts"]  # 14 hits of RD-10 and 4 of SQ-5 each


@pytest.fixture(scope="module")
def worked_shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """RD-10 with 56,000 of 60,000 wear hits, SQ-5 with 16,000 of 50,000, both in TP-1."""
    run = run_shop.store(tmp_path_factory.mktemp("doors"))
    run.done("fit", "RD-10", "--station", "T12", "--at", "2026-11-24T06:00")
    run.done("fit", "SQ-5", "--station", "T13", "--at", "2026-11-24T06:00")
    run.done("log", "TP-1", "--parts", "4000", "--program", "KIOSK-DOOR")
    return run.store


@pytest.fixture
def run(worked_shop: Path, tmp_path: Path) -> Command:
    """The command line on a copy of that store."""
    return Command(copied(worked_shop, tmp_path / "pmtrack.db"))


def recorded(told: str) -> list[str]:
    """The commands that are told to record what is to be done."""
    lines = [line.strip() for line in told.split("\n")]
    return [line.removeprefix("pmtrack ") for line in lines if line.startswith("pmtrack ")]


# 18 hits a door. RD-10: 4,000 left / 14 = 285.7; 60,200 after the run. SQ-5: 34,000 / 4.
SHARPEN_FIRST = """\
KIOSK-DOOR: 300 parts in mild on TP-1
5,400 hits; at 120 per minute at least 45 min, moves and loading aside
Tool   Station  Wear hits  Left now  Lasts parts  After  First
RD-10  T12          4,200     4,000          285  due    sharpen
SQ-5   T13          1,200    34,000        8,500  ok

Before the run, in this order
  1. sharpen RD-10: it runs out at part 286
     pmtrack sharpen RD-10 --mm 0.2 --why planned

Lock out and tag out before you reach in; tools are heavy and their edges sharp.
Local codes and the maker's manual go before this."""


def test_a_tool_that_will_not_last_is_sharpened_first(run: Command) -> None:
    """To order: 16 x 60,000 - 56,000 at 56,000 a working day ends on the 17th, 21 December."""
    assert trimmed(run.done(*DOORS, "300")) == SHARPEN_FIRST.split("\n")
    told = run.json(*DOORS, "300")
    assert {key: told[key] for key in ("program", "parts", "material", "machine", "hits")} == {
        "program": "KIOSK-DOOR", "parts": 300, "material": "mild", "machine": "TP-1", "hits": 5400,
    }  # fmt: skip
    assert (told["press_seconds"], told["ready"]) == (2700, False)
    assert told["before"] == [{"do": "sharpen", "tool": "RD-10"}]
    assert told["tools"][0] == {
        "tool": "RD-10", "state": "soon", "hits": 4200, "wear_hits": 4200, "station": "T12",
        "fitted": True, "elsewhere": None, "left": 4000, "lasts_parts": 285, "runs_out_at": 286,
        "past_grace_at": None, "after": "due", "sharpen_first": True, "replace_first": False,
        "fresh_parts": 4285, "stop_after": None, "stops": 0, "sharpenings_left": 15,
        "short_of_sharpenings": False, "order_by": "2026-12-11",
    }  # fmt: skip


def test_ready_when_nothing_is_to_be_done(run: Command) -> None:
    told = run.done(*DOORS, "285")
    assert trimmed(told)[-1] == "ready: every tool is fitted and lasts the run"
    assert "Lock out" not in told
    assert run.json(*DOORS, "285")["ready"] is True
    run.done("sharpen", "RD-10", "--mm", "0.2", "--why", "planned")
    assert run.json(*DOORS, "4285")["ready"] is True
    assert run.json(*DOORS, "4286")["ready"] is False


@pytest.mark.parametrize(
    ("material", "lasts", "wear_hits"),
    [("mild", 285, 4200), ("stainless", 142, 8400)],  # 4,000 / 28 = 142.9
)
def test_the_material_said_goes_before_the_programs(
    run: Command, material: str, lasts: int, wear_hits: int
) -> None:
    told = run.json(*DOORS, "300", "--material", material)
    tool = told["tools"][0]
    assert told["material"] == material
    assert (tool["lasts_parts"], tool["wear_hits"], tool["hits"]) == (lasts, wear_hits, 4200)


def test_a_tool_in_no_station_is_to_be_fitted_and_stations_are_not_known(run: Command) -> None:
    run.done("takeout", "SQ-5")
    told = run.done(*DOORS, "10")
    assert "  1. fit SQ-5\n     pmtrack fit SQ-5 --station T13\n" in told  # it sat there last
    assert "Which stations of TP-1 are free" in told
    assert run.json(*DOORS, "10")["before"] == [{"do": "fit", "tool": "SQ-5"}]


def test_a_station_that_nobody_knows_is_a_word_to_be_filled_in(run: Command) -> None:
    """The fit of SQ-5 is crossed out, so that it never sat anywhere."""
    fits = [e for e in run.json("entries") if e.get("event") == "fit" and e["tool"] == "SQ-5"]
    for entry in fits:
        run.done("void", str(entry["entry"]), "--why", "not fitted")
    (command,) = recorded(run.done(*DOORS, "10"))
    assert command == "fit SQ-5 --station STATION"
    run.refused(command.split(), 3, "STATION stands for a station; name yours, like --station T12")


def test_for_another_press_tools_come_over(run: Command) -> None:
    told = run.json(*DOORS, "10", "--machine", "TP-2")
    assert [(deed["do"], deed["tool"]) for deed in told["before"]] == [
        ("takeout", "RD-10"), ("takeout", "SQ-5"), ("fit", "RD-10"), ("fit", "SQ-5"),
    ]  # fmt: skip
    assert told["tools"][0]["elsewhere"] == ["TP-1", "T12"]
    assert told["press_seconds"] is None  # nobody said how fast TP-2 is
    for number, line in enumerate(recorded(run.done(*DOORS, "10", "--machine", "TP-2"))):
        run.done(*line.replace("--station STATION", f"--station S{number}").split())
        assert len(run.json(*DOORS, "10", "--machine", "TP-2")["tools"]) == 2
    assert run.json(*DOORS, "10", "--machine", "TP-2")["ready"] is True


def test_the_commands_that_are_told_make_it_ready(run: Command) -> None:
    run.done("takeout", "SQ-5")
    run.done("scrap", "SQ-5")
    told = run.done(*DOORS, "300")
    commands = recorded(told)
    assert [command.split()[:2] for command in commands] == [
        ["replace", "SQ-5"], ["sharpen", "RD-10"], ["fit", "SQ-5"],
    ]  # fmt: skip
    for command in commands:
        run.done(*command.split())
    assert run.json(*DOORS, "300")["ready"] is True


def test_a_die_wears_apart_and_is_fitted_with_its_punch(run: Command) -> None:
    """Ten hits a part: the die makes 250 within its 2,500, the punch 7,000."""
    told = run.json("setup", "SIDE", "--parts", "300")
    assert [(t["tool"], t["lasts_parts"]) for t in told["tools"]] == [
        ("RE-50", 7000), ("RE-50.die", 250),
    ]  # fmt: skip
    assert told["hits"] == 3000
    assert told["before"] == [{"do": "fit", "tool": "RE-50"}]
    assert "  sharpen RE-50.die after part 250\n" in run.done("setup", "SIDE", "--parts", "300")


def test_stops_in_a_long_run(run: Command) -> None:
    """Eight hits a part of 2,000: 250 parts from one sharpening to the next, and one is left."""
    run.done("fit", "LV-60", "--station", "T20")
    told = run.done("setup", "LOUVER", "--parts", "1000")
    assert "  sharpen LV-60 after part 250, then every 250 parts: 3 times in all\n" in told
    assert "LV-60 has 1 sharpening left, fewer than the run takes" in told
    assert "ready" not in told


def test_nothing_left_to_grind(run: Command) -> None:
    run.done("fit", "LV-60", "--station", "T20", "--at", "2026-11-24T07:00")
    run.done("sharpen", "LV-60", "--mm", "0.5", "--why", "planned", "--at", "2026-11-24T08:00")
    lasting = run.done("setup", "LOUVER", "--parts", "250")
    assert "LV-60 lasts, but cannot be sharpened again after: order a new one." in lasting
    assert trimmed(lasting)[-1].startswith("ready")
    run.done("log", "TP-1", "--parts", "100", "--program", "LOUVER")
    told = run.done("setup", "LOUVER", "--parts", "200")
    assert "  1. put in a new LV-60: nothing is left to grind, it runs out at part 151" in told
    assert run.json("setup", "LOUVER", "--parts", "200")["tools"][0]["replace_first"] is True


@pytest.mark.parametrize(
    ("parts", "when"),
    [
        # 56,000 a working day: the rest of 60,000 is made on the 27th, the notice is ten days
        (4000, "at once"),
        # 560 a working day: 59,440 take 107, up to 5 May (19 to the shutdown, then 20, 20, 23, 22)
        (40, "by 2027-04-25"),
    ],
)
def test_when_a_new_one_is_to_be_ordered(run: Command, parts: int, when: str) -> None:
    run.done("void", "3", "--why", "typed again below")
    run.done("sharpen", "RD-10", "--mm", "3", "--why", "chipped", "--at", "2026-11-25T07:00")
    run.done("log", "TP-1", "--parts", str(parts), "--program", "KIOSK-DOOR")
    told = " ".join(run.done(*DOORS, "10").split())
    assert f"RD-10 lasts, but cannot be sharpened again after: order a new one {when}." in told


def test_past_its_grace_is_told_apart_from_due(run: Command) -> None:
    """10,000 wear hits to the end of the grace, 28 a part: 357.1."""
    told = run.done(*DOORS, "400", "--material", "stainless")
    assert "it runs out at part 143, past its grace at part 358" in told
    assert run.json(*DOORS, "400", "--material", "stainless")["tools"][0]["after"] == "overdue"


def test_as_of_an_earlier_day(run: Command) -> None:
    told = run.json(*DOORS, "300", "--on", "2026-11-24")
    assert [tool["left"] for tool in told["tools"]] == [60000, 50000]
    assert told["ready"] is True


def test_a_machine_out_of_service_and_shifts_without_a_log_are_told(run: Command) -> None:
    run.done("idle", "TP-1", "--why", "ram seal")
    run.done("log", "TP-1", "--shift", "day", "--date", "2026-11-23", "--hits", "5")
    told = run.done(*DOORS, "300")
    assert "TP-1 is out of service." in told
    assert "No log of day of 2026-11-24: the tools may be worn further than" in told
    told_json = run.json(*DOORS, "300")
    assert told_json["missing_logs"] == [{"shift": "day", "date": "2026-11-24"}]
    assert told_json["out_of_service"] is True


REFUSED = [
    ("setup X --parts 3", 3, "no program 'X'; the shop file has KIOSK-DOOR, LOUVER, SIDE"),
    ("setup KIOSK-DOOR --parts 3 --material gold", 3, "no material 'gold'"),
    ("setup KIOSK-DOOR --parts 3 --machine TP-9", 3, "no machine 'TP-9'; the shop has TP-1"),
    ("setup BRACKET --parts 3", 3, "uses tools of TP-1 and PB-1; say --machine TP-1 or --machine"),
    ("setup PLAIN --parts 3", 3, "PLAIN hits with no tool; write its hits for a part"),
    ("setup KIOSK-DOOR", 2, "Missing option '--parts'"),
    ("setup KIOSK-DOOR --parts 0", 2, "'0' is no number of parts; write a whole number, 1 or more"),
    (
        "setup KIOSK-DOOR --parts=-5",
        2,
        "'-5' is no number of parts; write a whole number, 1 or more",
    ),
    (
        "setup KIOSK-DOOR --parts 2.5",
        2,
        "'2.5' is no number of parts; write a whole number, 1 or more",
    ),
    ("setup KIOSK-DOOR --parts many", 2, "'many' is not a number; write it like"),
    ("setup KIOSK-DOOR --parts 9e9", 2, "'9e9' is not a number"),
    ("setup KIOSK-DOOR --parts 3 --on 2026-13-01", 2, "2026-13-01"),
]


@pytest.mark.parametrize(("line", "status", "message"), REFUSED)
def test_what_is_refused(run: Command, line: str, status: int, message: str) -> None:
    run.refused(line.split(), status, message)


def test_it_explains_itself_with_an_example(run: Command) -> None:
    told = run.done("setup", "--help")
    assert "  Example: pmtrack setup KIOSK-DOOR --parts 300" in told
    assert_fits(told)


def test_tools_of_the_machine_named_only(run: Command) -> None:
    """A bracket is punched on TP-1 and bent on PB-1."""
    for machine, tool in (("TP-1", "RD-10"), ("PB-1", "BP-88")):
        told = run.json("setup", "BRACKET", "--parts", "3", "--machine", machine)
        assert [row["tool"] for row in told["tools"]] == [tool]


@pytest.mark.parametrize("parts", ["1", "300", "1000000", "1000000000000"])
def test_it_fits_eighty_columns(run: Command, parts: str) -> None:
    run.done("takeout", "SQ-5")
    run.done("fit", "SQ-5", "--station", "W" * 40)
    for program in ("KIOSK-DOOR", "LOUVER", "SIDE"):
        assert_fits(run.done("setup", program, "--parts", parts))


def test_hostile_names_are_shown_as_typed_and_never_obeyed(run: Command) -> None:
    run.done("takeout", "SQ-5")
    run.done("fit", "SQ-5", "--station", "[b]A[/b]")
    assert "[b]A[/b]" in run.done(*DOORS, "3")
    for option in (["--material", "\x1b[31m"], ["--machine", "\x1b]0;x\x07"], ["--on", "\x9b"]):
        assert ESCAPE not in run.refused([*DOORS, "3", *option], (2, 3), "").err
    run.refused(["setup", "\x1b[31mX", "--parts", "3"], 3, "no program")
