"""Dies, nozzles, lengths, scrapped tools and hits that no tool got, through the command line.

2026-11-25 is a Wednesday, the 26th is closed. RD-10 has a die; NZ-1 and NZ-2 count the cycles of
PB-1, 900 of them, and are replaced.
"""

from pathlib import Path

import pytest

from tests.command import APPLIED, SMALL_SHOP, Command, assert_fits, trimmed

PUNCH = "grind: 0.2, grindable: 3.0, replace_notice: 10 days, price: 85}"
DIE = (
    "grind: 0.2, grindable: 3.0, replace_notice: 10 days, price: 85,\n     die: {sharpen_every: "
    "150000, grind: 0.2, grindable: 2, replace_notice: 10 days, price: 70}}"
)
NOZZLE = "machine: PB-1, kind: nozzle, counts: cycles, sharpen_every: 900, grindable: 0, price: 18"
PARTS = ["log", "TP-1", "--parts", "1000", "--program", "KIOSK-DOOR"]  # 14 hits of RD-10 each
DAY = ["--shift", "day", "--date"]


@pytest.fixture
def run(tmp_path: Path) -> Command:
    """A store of the small shop with a die and two nozzles."""
    text = SMALL_SHOP.read_text("utf-8")
    assert PUNCH in text
    tools = "".join(f"  - {{code: NZ-{n}, {NOZZLE}}}\n" for n in (1, 2))
    text = text.replace(PUNCH, DIE).replace("programs:", f"{tools}programs:")
    path = tmp_path / "shop.yaml"
    path.write_text(text, "utf-8")
    command = Command(tmp_path / "pmtrack.db")
    command.done("apply", str(path), now=APPLIED)
    return command


def tools(run: Command, *arguments: str) -> dict[str, dict[str, object]]:
    """The list of tools by code."""
    return {row["tool"]: row for row in run.json("tooling", *arguments)}


def counts(run: Command, text: str) -> list[str]:
    """A file of rows counted for tools, as an import."""
    path = run.store.with_name("counts.csv")
    path.write_text(f"tool,at,hits,by\n{text}\n")
    return ["import", "tool-counts", str(path)]


def test_a_die_has_the_hits_of_its_punch_and_an_interval_of_its_own(run: Command) -> None:
    run.done("fit", "RD-10", "--station", "T12", "--at", "2026-11-24T06:00")
    run.done(*PARTS)
    found = tools(run)
    assert [found[code]["wear_hits"] for code in ("RD-10", "RD-10.die")] == [14_000, 14_000]
    assert found["RD-10.die"]["used"] == pytest.approx(14 / 150)
    assert found["RD-10.die"]["station"] == "T12"
    told = run.done("sharpen", "RD-10.die", "--mm", "0.2", "--why", "planned")
    assert told.startswith("entry 3: RD-10.die sharpened; 0 of 150,000 wear hits, 1.8 mm left")
    found = tools(run)
    assert [found[code]["wear_hits"] for code in ("RD-10", "RD-10.die")] == [14_000, 0]


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("fit RD-10.die --station T12", "goes with its punch; say 'fit RD-10'"),
        ("takeout RD-10.die", "goes with its punch; say 'takeout RD-10'"),
        ("fit NZ-1 --station head --machine TP-1", "TP-1 has no meter 'cycles'"),
        ("sharpen NZ-1 --mm 0.1 --why planned", "has 0 mm left to grind"),
        ("sharpen RD-10 --mm 0.2 --why planned --length 0", "the length that was measured"),
    ],
)
def test_what_does_not_go_with_a_part_is_refused(run: Command, line: str, reason: str) -> None:
    run.refused(line.split(), 3, reason)


def test_hits_are_counted_for_the_punch_not_for_its_die(run: Command) -> None:
    row = "RD-10.die,2026-11-25T12:00,50,Dana"
    run.refused(counts(run, row), 3, "takes the hits of its punch; enter them for RD-10")


def test_a_nozzle_counts_the_meter_of_its_machine_while_it_is_fitted(run: Command) -> None:
    run.done("fit", "NZ-1", "--station", "head", "--at", "2026-11-23T06:00")
    run.done("log", "PB-1", *DAY, "2026-11-23", "--count", "cycles=400")
    run.done("takeout", "NZ-1", "--at", "2026-11-24T06:00")
    run.done("fit", "NZ-2", "--station", "head", "--at", "2026-11-24T06:00")
    run.done("log", "PB-1", *DAY, "2026-11-24", "--count", "cycles=300")
    run.done("log", "PB-1", *DAY, "2026-11-25", "--count", "cycles=650")
    found = tools(run)
    assert [found[code]["wear_hits"] for code in ("NZ-1", "NZ-2")] == [400, 950]
    assert [found[code]["state"] for code in ("NZ-1", "NZ-2")] == ["ok", "due"]
    assert found["NZ-2"]["sharpen_on"] == "2026-11-25"
    assert found["NZ-2"]["unit"] == "cycles"
    # 950 is 106 % of 900, within the tenth over; the row tells its unit
    shown = run.done("tooling", "--station", "head")
    assert [line.split()[:6] for line in trimmed(shown)[1:2]] == [
        ["due", "NZ-2", "head", "950", "cycles", "106"]
    ]
    # 950 in 2 working days: 900 / 475 = 1.9, the 2nd after the 25th, with the 26th closed
    told = run.done("replace", "NZ-2")
    assert told.endswith("NZ-2 replaced; 0 of 900 cycles, replace on 2026-11-30\n")
    assert tools(run, "--on", "2026-11-24")["NZ-2"]["wear_hits"] == 300


def test_a_station_is_asked_for_by_its_name(run: Command) -> None:
    run.done("fit", "RD-10", "--station", "T12")
    assert list(tools(run, "--station", "T12")) == ["RD-10", "RD-10.die"]
    assert tools(run, "--station", "T99") == {}
    assert run.done("tooling", "--station", "T99") == "No tool is there.\n"


def test_hits_of_the_machine_that_no_tool_got_are_told(run: Command) -> None:
    """20,000 on the meter, 14,000 by the program; on Tuesday 500 without one."""
    run(*PARTS, "--hits", "20000")
    run.done("log", "TP-1", *DAY, "2026-11-24", "--hits", "500")
    [told] = run.json("tooling", "--unallocated")
    assert {k: told[k] for k in ("machine", "hits", "unlogged", "allocated", "unallocated")} == {
        "machine": "TP-1", "hits": 20_500, "unlogged": 0, "allocated": 14_000,
        "unallocated": 6_500,
    }  # fmt: skip
    assert told["share"] == pytest.approx(65 / 205)
    # the 20 working days up to the 25th begin on Thursday 29 October
    assert (told["from"], told["to"]) == ("2026-10-29", "2026-11-25")
    assert "TP-1: 6,500 of 20,500 since 2026-10-29, 31.7 %" in run.done("tooling")
    shown = run.done("tooling", "--unallocated")
    assert_fits(shown)
    assert "They are spread over no tool" in " ".join(shown.split())


def test_more_hits_by_tools_than_by_the_meter_are_told_too(run: Command) -> None:
    run(*PARTS, "--hits", "13000")
    told = " ".join(run.done("tooling").split())
    assert "TP-1: none; its tools got 1,000 more than the 13,000 of its meter" in told


def test_a_length_is_kept_and_questioned_when_it_contradicts_the_mm(run: Command) -> None:
    first = ["sharpen", "RD-10", "--mm", "0.2", "--why", "planned", "--length", "207.8"]
    run.done(*first)
    told = run("sharpen", "RD-10", "--mm", "0.2", "--why", "burr", "--length", "207.1")
    assert told.status == 0
    assert "0.7 mm less, but 0.2 mm were entered as ground off" in told.err
    entries = run.json("entries")
    assert [entry["length"] for entry in entries] == [207.8, 207.1]
    why = run.json("why", "RD-10")
    assert [(row["entry"], row["length"]) for row in why["lengths"]] == [(1, 207.8), (2, 207.1)]
    assert len(why["remarks"]) == 2  # the contradiction, and no station
    assert "measured 207.1 mm on 2026-11-25 (entry 2)" in run.done("why", "RD-10")


def test_a_length_comes_with_a_file_of_events(run: Command) -> None:
    path = run.store.with_name("events.csv")
    head = "tool,at,event,by,mm,why,length"
    row = "RD-10,2026-11-24T12:00,sharpen,Dana,0.2,planned,207.8"
    path.write_text(f"{head}\n{row}\n")
    run.done("import", "tool-events", str(path))
    assert run.json("entries")[0]["length"] == 207.8
    run.refused(["import", "tool-events", str(path)], 3, "in the store already, as entry 1")
    path.write_text(f"{head}\nRD-10,2026-11-25T12:00,replace,Dana,,,207.8\n")
    run.refused(["import", "tool-events", str(path)], 3, "length does not go with replace")


def test_hits_of_a_scrapped_tool_are_refused_where_counted_and_questioned_where_logged(
    run: Command,
) -> None:
    run.done("scrap", "RD-10.die", "--at", "2026-11-24T12:00")
    told = "RD-10.die after it was scrapped on 2026-11-24"
    run.refused(counts(run, "RD-10,2026-11-25T12:00,50,Dana"), 3, told)
    run.refused(PARTS, 3, "RD-10.die of KIOSK-DOOR is scrapped since 2026-11-24")
    assert run(*PARTS, "--confirm").status == 0
    run.done("replace", "RD-10.die")
    assert run(*counts(run, "RD-10,2026-11-23T12:00,50,Dana")).status == 0


def test_a_shift_that_ends_as_a_tool_is_scrapped_had_the_tool(run: Command) -> None:
    """Hits are counted up to a shift's end, here 14:30; so either of the two may be told first."""
    run.done("scrap", "RD-10.die", "--at", "2026-11-25T14:30")
    assert run(*PARTS, "--shift", "day").status == 0
    run.done("scrap", "RD-10", "--at", "2026-11-25T14:29")
    run.refused(PARTS, 3, "RD-10 of KIOSK-DOOR is scrapped since 2026-11-25")


def test_a_log_with_a_scrapped_tool_is_taken_on_a_yes(run: Command) -> None:
    run.done("scrap", "RD-10.die", "--at", "2026-11-24T12:00")
    told = run("log", "TP-1", stdin="\n\n1000\n\nKIOSK-DOOR\nyes\n")
    assert told.status == 0
    assert "or add --confirm if it ran without it" in told.err
    assert run.json("entries")[1]["confirmed"] is True


def test_a_tool_is_not_scrapped_before_hits_that_were_counted_for_it(run: Command) -> None:
    assert run(*counts(run, "RD-10,2026-11-25T12:00,50,Dana")).status == 0
    late = ["scrap", "RD-10", "--at", "2026-11-25T11:00"]
    run.refused(late, 3, "entry 1 counts hits of RD-10 after it was scrapped on 2026-11-25")
    run.done("scrap", "RD-10", "--at", "2026-11-25T12:00")


# 2 x 14 = 28 hits a part in stainless. 1,000 parts in mild steel and 500 in stainless:
# 14,000 + 14,000 = 28,000 of 60,000. One increment of one working day: 28,000 a day.
# To sharpen 32,000 / 28,000 = 1.14, the 2nd working day after the 25th (the 26th is closed): the
# 27th and Monday 30 November. End: 3.0 / 0.2 = 15, 16 x 60,000 - 28,000 = 932,000 / 28,000 = 33.29,
# so the 34th: 27 and 30 November, 17 in December to the 23rd, 15 in January from Monday the 4th:
# Friday the 22nd. Cost: 85 / (16 x 60,000) x 1,000 = 0.0885.
WHY = """\
RD-10  round punch, 10 mm
ok on Wednesday 2026-11-25; Turret punch press, station T12

Why
  sharpen every 60,000 wear hits: ok
    since the first entry: it was never sharpened or replaced
    KIOSK-DOOR: 1,000 parts x 14 hits x 1 (mild) = 14,000
    KIOSK-DOOR: 500 parts x 14 hits x 2 (stainless) = 14,000
    14,000 + 14,000 = 28,000 wear hits
    28,000 / 60,000 = 46.7 % of the interval
    soon from 54,000, or half gone and 7 days before the day; due at 60,000,
      overdue above 66,000
    rate 28,000 wear hits a working day (28,000 in the last 1 with entries)
    (60,000 - 28,000) / 28,000 = 1.14, so working day 2 after 2026-11-25: Mon
      2026-11-30
  what is left of it
    3 - 0 mm ground in 0 sharpening(s) since new = 3 mm; / 0.2 = 15 sharpenings
      left
    end of life at (15 + 1) x 60,000 = 960,000 wear hits from its last edge
    (960,000 - 28,000) / 28,000 = 33.29, so working day 34 after 2026-11-25: Fri
      2027-01-22
    less 10 days of notice: order by Tue 2027-01-12
  cost of 1,000 wear hits: 0.089
    85 / (16 run(s) x 60,000) x 1,000"""


def test_why_a_tool_stands_where_it_does(run: Command) -> None:
    run.done("fit", "RD-10", "--station", "T12", "--at", "2026-11-24T06:00")
    run.done(*PARTS)
    stainless = ["--parts", "490", "--scrap", "10", "--material", "stainless"]
    run.done("log", "TP-1", *stainless, "--program", "KIOSK-DOOR")
    shown = run.done("why", "RD-10")
    assert_fits(shown)
    assert trimmed(shown)[: len(WHY.split("\n"))] == WHY.split("\n")
    assert "no gloves at a running grinding wheel" in " ".join(shown.split())
    assert [line.split()[:2] for line in trimmed(shown)[-3:]] == [
        ["1", "tool-event"], ["2", "shift"], ["3", "shift"]
    ]  # fmt: skip
    told = run.json("why", "RD-10")
    assert {key: told[key] for key in ("tool", "wear_hits", "rule")} == {
        "tool": "RD-10", "wear_hits": 28_000, "rule": "sharpen every 60,000 wear hits"
    }  # fmt: skip
    assert [share["wear"] for share in told["shares"]] == [14_000, 14_000]
    assert tools(run)["RD-10"].items() <= told.items()


def test_why_tells_what_each_stay_of_a_part_gained(run: Command) -> None:
    run.done("fit", "NZ-1", "--station", "head", "--at", "2026-11-23T06:00")
    run.done("log", "PB-1", *DAY, "2026-11-23", "--count", "cycles=400")
    run.done("takeout", "NZ-1", "--at", "2026-11-24T06:00")
    run.done("fit", "NZ-1", "--station", "tail", "--at", "2026-11-25T06:00")
    run.done("log", "PB-1", *DAY, "2026-11-25", "--count", "cycles=300")
    told = run.json("why", "NZ-1")
    assert [(share["source"], share["wear"]) for share in told["shares"]] == [
        ("in head of PB-1 from 2026-11-23 to 2026-11-24", 400),
        ("in tail of PB-1 from 2026-11-25 on", 300),
    ]
    assert told["rule"] == "replace every 900 cycles"
    assert [row["kind"] for row in told["evidence"]] == ["tool-event", "meter", "meter"]
    assert not any("grinding" in caution for caution in told["cautions"])


def test_why_of_what_is_neither_task_nor_tool_is_refused(run: Command) -> None:
    run.refused(["why", "RD-11"], 3, "no task 'RD-11'")
