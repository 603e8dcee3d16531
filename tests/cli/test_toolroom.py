"""The tool room's day: how worn the tools are, and what was done to them."""

import pytest

from tests.command import Command, assert_fits, trimmed

PARTS = ["log", "TP-1", "--parts", "1000", "--program", "KIOSK-DOOR"]  # 14 hits of RD-10 each


@pytest.fixture
def fitted(run: Command) -> Command:
    """RD-10 in a station, with 14,000 hits on the day shift of Wednesday 25 November."""
    run.done("fit", "RD-10", "--station", "T12", "--at", "2026-11-24T06:00")
    run.done(*PARTS)
    return run


# Rate 14,000 a working day (one day, one increment). To sharpen: (60,000 - 14,000) / 14,000 = 3.3,
# the 4th working day after the 25th: 27, 30, 1, 2 December. End of life: 3.0 mm / 0.2 mm = 15
# sharpenings, 16 x 60,000 - 14,000 = 946,000 / 14,000 = 67.6, the 68th working day: 19 in 2026
# (27 November to 23 December), 20 in January from the 4th, 20 in February, the 9th in March is
# Thursday the 11th. To order 10 days before it: 1 March.
TOOLS = """\
State  Tool   Station  Wear hits  Used  Sharpen     Left  Order by
ok     RD-10  T12         14,000  23 %  2026-12-02    15  2027-03-01
ok     SQ-5   -                0   0 %  -             10  -"""


def test_the_list_of_tools(fitted: Command) -> None:
    assert trimmed(fitted.done("tooling")) == TOOLS.split("\n")
    assert trimmed(fitted.done("tooling", "--machine", "TP-1")) == TOOLS.split("\n")
    told = fitted.json("tooling")[0]
    assert (told["end_of_life"], told["order_by"]) == ("2027-03-11", "2027-03-01")
    assert told["used"] == pytest.approx(14 / 60)
    # 85 for a new one, over 16 x 60,000 hits
    assert told["cost_per_1000"] == pytest.approx(85 / 960)


def test_the_most_worn_come_first_when_asked_for(fitted: Command) -> None:
    fitted.done("sharpen", "RD-10", "--mm", "0.2", "--why", "planned")
    fitted.done("fit", "SQ-5", "--station", "T13")
    listed = [row["tool"] for row in fitted.json("tooling", "--dull-first")]
    assert listed == ["RD-10", "SQ-5"]


def test_a_sharpening_starts_the_wear_anew_and_takes_height(fitted: Command) -> None:
    told = fitted.done("sharpen", "RD-10", "--mm", "0.25", "--why", "burr", "--note", "left edge")
    assert told.startswith("entry 3: RD-10 sharpened; 0 of 60,000 wear hits, 2.75 mm left")
    tool = fitted.json("tooling")[0]
    # 2.75 / 0.2 = 13.75
    assert (tool["wear_hits"], tool["mm_left"], tool["sharpenings_left"]) == (0, 2.75, 13)
    assert tool["station"] == "T12"


def test_fifteen_sharpenings_of_a_fifth_use_up_three_millimetres(fitted: Command) -> None:
    for left in range(14, -1, -1):
        told = fitted("sharpen", "RD-10", "--mm", "0.2", "--why", "planned")
        # from the second on of a day it is remarked that it may have been typed twice
        assert (told.status, bool(told.err)) == (0, left < 14)
        assert fitted.json("tooling")[0]["sharpenings_left"] == left
    fitted.refused(["sharpen", "RD-10", "--mm", "0.2", "--why", "planned"], 3, "has 0 mm left")


def test_the_life_of_a_tool(fitted: Command) -> None:
    fitted.done("sharpen", "RD-10", "--mm", "2", "--why", "chipped")
    fitted.refused(["fit", "RD-10", "--station", "T13"], 3, "RD-10 is already in station T12")
    assert fitted.done("takeout", "RD-10").startswith("entry 4: RD-10 taken out; ")
    assert fitted.json("tooling")[0]["station"] is None
    assert fitted.done("scrap", "RD-10").startswith("entry 5: RD-10 scrapped; ")
    for deed in (["fit", "RD-10", "--station", "T1"], ["takeout", "RD-10"], ["scrap", "RD-10"]):
        fitted.refused(deed, 3, "RD-10 is scrapped; record its replacement first")
    told = fitted.done("replace", "RD-10")
    assert told.startswith("entry 6: RD-10 replaced; 0 of 60,000 wear hits, 3 mm left")
    fitted.done("fit", "RD-10", "--station", "T1")
    assert fitted.json("tooling")[0]["station"] == "T1"


def test_a_replacement_crossed_out_gives_the_former_answers(fitted: Command) -> None:
    before = fitted.json("tooling")
    fitted.done("replace", "RD-10")
    assert fitted.json("tooling") != before
    fitted.done("void", "3", "--why", "typed for the wrong tool")
    assert fitted.json("tooling") == before


def test_a_harder_material_wears_twice_as_fast(fitted: Command) -> None:
    assert fitted(*PARTS, "--material", "stainless").status == 0
    assert fitted.json("tooling")[0]["wear_hits"] == 14_000 + 28_000


def test_counted_hits_go_before_the_programs_of_that_day(fitted: Command) -> None:
    counts = fitted.store.with_name("counts.csv")
    counts.write_text("tool,at,hits,by\nRD-10,2026-11-25T12:00,9000,Dana\n")
    fitted.done("import", "tool-counts", str(counts))
    assert fitted.json("tooling")[0]["wear_hits"] == 9_000


def test_a_worn_tool_is_on_the_list_of_the_day(fitted: Command) -> None:
    for _ in range(4):
        fitted(*PARTS)
    shown = fitted.done("today")
    assert "Tools to sharpen, replace or order" in shown
    # 5 x 14,000 = 70,000 of 60,000
    assert [line for line in trimmed(shown) if line.startswith("overdue  RD-10")]
    assert_fits(shown)


def test_a_tool_whose_last_day_to_order_has_come_is_on_the_list_of_the_day(run: Command) -> None:
    """Nothing is left to grind: 46,000 hits at 14,000 a day end on 2 December, 10 days are gone."""
    run.done("sharpen", "RD-10", "--mm", "3", "--why", "planned", "--at", "2026-11-24T06:00")
    assert "RD-10" not in run.done("today")  # not worn yet, nobody knows when
    run.done("fit", "RD-10", "--station", "T12", "--at", "2026-11-24T06:00")
    run.done(*PARTS)
    shown = run.done("today")
    assert trimmed(shown)[-6:-3] == [
        "Tools to sharpen, replace or order",
        "State  Tool   Station  Wear hits  Used  Sharpen     Left  Order by",
        "ok     RD-10  T12         14,000  23 %  2026-12-02     0  now",
    ]
    assert run.json("today")["tools"][0]["order_by"] == "2026-11-22"
    assert "RD-10" not in run.done("today", "--on", "2026-11-24")
    run.done("replace", "RD-10")
    assert "RD-10" not in run.done("today")


def test_a_scrapped_tool_has_no_day_to_come(fitted: Command) -> None:
    days = ("sharpen_on", "sharpen_range", "end_of_life", "order_by")
    before = fitted.json("tooling")[0]
    assert [before[name] is None for name in days] == [False, True, False, False]
    told = fitted.done("scrap", "RD-10")
    assert told == "entry 3: RD-10 scrapped; 14,000 of 60,000 wear hits, 3 mm left\n"
    after = fitted.json("tooling")[0]
    assert [after[name] for name in days] == [None] * 4
    line = next(line for line in trimmed(fitted.done("tooling")) if "RD-10" in line)
    assert line.split() == ["scrapped", "RD-10", "-", "14,000", "23", "%", "-", "15", "-"]
    why = trimmed(fitted.done("why", "RD-10"))
    assert (
        why.count("    scrapped: no day is expected")
        + why.count("      scrapped: no day is expected")
        == 2
    )
    assert not any("order by" in line or "80 %" in line for line in why)
    jobs = fitted.store.with_name("jobs.csv")
    jobs.write_text("date,program,parts\n2026-11-27,KIOSK-DOOR,9000\n")
    by_jobs = fitted.json("tooling", "--jobs", str(jobs))[0]
    assert [by_jobs[name] for name in days] == [None] * 4
    assert by_jobs["by_jobs"] == 126_000


LATE = [  # each cannot have been, for something that is entered already came after it
    (["fit RD-10 --station T12 --at 2026-11-20T08:00"],
     "fit SQ-5 --station T12 --at 2026-11-19T08:00"),
    (["sharpen SQ-5 --mm 1.5 --why planned --at 2026-11-24T10:00"],
     "sharpen SQ-5 --mm 1.5 --why planned --at 2026-11-23T10:00"),
    (["fit RD-10 --station T12 --at 2026-11-20T08:00", "takeout RD-10 --at 2026-11-24T10:00"],
     "takeout RD-10 --at 2026-11-23T10:00"),
    (["fit RD-10 --station T12 --at 2026-11-20T08:00"],
     "fit RD-10 --station T13 --at 2026-11-19T08:00"),
    (["fit RD-10 --station T12 --at 2026-11-20T08:00"], "scrap RD-10 --at 2026-11-19T08:00"),
]  # fmt: skip


@pytest.mark.parametrize(("before", "late"), LATE)
def test_what_is_entered_late_must_fit_what_came_after_it(
    run: Command, before: list[str], late: str
) -> None:
    for line in before:
        run.done(*line.split())
    run.refused(late.split(), 3, "")


# The night shift of the 24th ends on the 25th at six: 2,000 parts, 28,000 hits. Two shifts of
# 14,000 follow, the later one so far on that the rate has no need of what came before December.
@pytest.mark.parametrize(
    ("sharpened", "wear"), [("2026-11-25T02:00", 56000), ("2026-11-25T06:30", 28000)]
)
def test_a_shift_belongs_to_the_edge_that_was_there_at_its_end(
    run: Command, sharpened: str, wear: int
) -> None:
    now = "2027-02-01T10:00"
    run.done("fit", "RD-10", "--station", "T12", "--at", "2026-11-24T06:00")
    night = ["--shift", "night", "--date", "2026-11-24", "--program", "KIOSK-DOOR"]
    run.done("log", "TP-1", "--parts", "2000", *night)
    run.done("sharpen", "RD-10", "--mm", "0.2", "--why", "planned", "--at", sharpened)
    for day in ("2026-12-01", "2027-01-20"):
        run.done(*PARTS, "--shift", "day", "--date", day, now=now)
    assert run.json("tooling", now=now)[0]["wear_hits"] == wear
    assert sum(share["wear"] for share in run.json("why", "RD-10", now=now)["shares"]) == wear
    listed = [tool["tool"] for tool in run.json("today", now=now)["tools"]]
    assert listed == (["RD-10"] if wear >= 54000 else [])


def test_a_sharpening_typed_twice_is_remarked(fitted: Command) -> None:
    sharpen = ["sharpen", "rd-10", "--mm", "0.2", "--why", "burr"]
    fitted.done(*sharpen, "--at", "2026-11-24T10:00")
    fitted.done(*sharpen, "--at", "2026-11-25T10:00")  # of another day
    fitted.done("sharpen", "RD-10", "--mm", "0.3", "--why", "burr")
    told = fitted(*sharpen)
    assert told.out.startswith("entry 6: RD-10 sharpened; ")
    assert told.err == (
        "entry 4 says the same; if it was typed twice: pmtrack void 4 --why 'typed twice'\n"
    )


@pytest.mark.parametrize(
    "line",
    [
        "fit RD-10 --station T13",
        "fit RD-10 --station T12",
        "fit SQ-5 --station T12",  # in the station that RD-10 would never have left
    ],
)
def test_what_came_after_a_takeout_is_crossed_out_before_it(fitted: Command, line: str) -> None:
    """Entry 1 is the fit, 2 the parts, 3 the takeout, 4 what came after it."""
    fitted.done("takeout", "RD-10")
    fitted.done(*line.split())
    fitted.refused(
        ["void", "3", "--why", "not taken out"],
        3,
        "entry 4, fit of 2026-11-25, comes after it and could not have been; "
        "cross out entry 4 first",
    )
    fitted.done("void", "4", "--why", "not fitted")
    fitted.done("void", "3", "--why", "not taken out")


def test_a_day_beyond_ten_years_is_no_date(fitted: Command) -> None:
    """One hit a day: 50,000 working days are some 200 years."""
    counts = fitted.store.with_name("counts.csv")
    counts.write_text("tool,at,hits,by\nSQ-5,2026-11-25T12:00,1,Dana\n")
    assert fitted("import", "tool-counts", str(counts)).status == 0
    told = fitted.done("fit", "SQ-5", "--station", "T13")
    assert told.endswith("SQ-5 fitted; 1 of 50,000 wear hits, 2 mm left, sharpen in over 10 y\n")
    assert "over 10 y" in fitted.done("tooling")


def test_a_tool_fitted_twice_a_day_is_not_typed_twice(run: Command) -> None:
    for hour in ("06", "10"):
        run.done("fit", "RD-10", "--station", "T12", "--at", f"2026-11-24T{hour}:00")
        run.done("takeout", "RD-10", "--at", f"2026-11-24T{hour}:30")
