"""The report as a page for a meeting: `report --html`, read back from its HTML and its pictures."""

import sys
from pathlib import Path

import pytest

from pmtrack.exports.job_text import STANDING_CAUTION
from tests.command import Command
from tests.exports.html_tree import Element
from tests.pictures.inlined import Page, taken_apart

DATES = ("--from", "2026-11-23", "--to", "2026-11-25")
HOSTILE = '<svg onload=alert(1)> & "id=x" $x^2$ url(#p) </svg>'


@pytest.fixture
def out(run: Command) -> Path:
    """Where the page goes."""
    return run.store.with_name("report.html")


@pytest.fixture
def busy(run: Command) -> Command:
    """A day with two breakdowns of 2 h and 1 h, a planned stop of half an hour, and 4,100 hits."""
    run.done("log", "TP-1", "--shift", "day", "--date", "2026-11-24", "--hits", "4100",
             "--parts", "140")  # fmt: skip
    for machine, cause, first, last, planned in (
        ("TP-1", "leak", "08:00", "10:00", ()),
        ("TP-1", HOSTILE, "11:00", "12:00", ()),
        ("PB-1", "changeover", "09:00", "09:30", ("--planned",)),
    ):
        times = ("--from", f"2026-11-24T{first}", "--to", f"2026-11-24T{last}")
        run.done("stop", machine, "--cause", cause, *times, *planned)
    return run


def written(run: Command, out: Path, *more: str) -> str:
    """The document that the command writes."""
    told = run("report", *(DATES if "--from" not in more else ()), *more, "--html", str(out))
    assert (told.status, told.err) == (0, "")
    assert told.out == f"{out}: the report; any browser shows and prints it\n"
    return out.read_text("utf-8")


def page(run: Command, out: Path, *more: str) -> Page:
    """The page, checked and taken apart."""
    return taken_apart(written(run, out, *more))


def section(found: Page, title: str) -> Element:
    """The part of the page under a heading."""
    parts = [*found.html.all("section"), *found.html.all("figure")]
    return next(one for one in parts if one.all("h2")[0].text.startswith(title))


def rows(part: Element) -> dict[str, list[str]]:
    """The rows of its tables by their names."""
    listed = [row for body in part.all("tbody") for row in body.all("tr")]
    return {row.all("th")[0].text: [cell.text for cell in row.all("td")] for row in listed}


def test_the_head_says_which_shop_which_dates_and_when_it_was_made(
    busy: Command, out: Path
) -> None:
    head = page(busy, out).html.all("header")[0].text
    assert head == (
        "Downtime against throughput Quillback Sheet Works 23 Nov 2026 to 25 Nov 2026"
        " made on 25 Nov 2026"
    )


def test_what_to_change_comes_before_all_figures(busy: Command, out: Path) -> None:
    parts = page(busy, out).html.all("main")[0].all("h2")
    assert [part.text for part in parts][:2] == ["Three things to change", "Key figures"]


def test_each_thing_to_change_has_the_command_that_shows_why(busy: Command, out: Path) -> None:
    # the stopping-time check of a press is by law; nothing else of three days stands out
    things = busy.json("advice")["three_things"]
    told = section(page(busy, out), "Three things").all("li")
    assert [one.all("span", "what")[0].text for one in told] == [one["what"] for one in things]
    assert [one.all("code")[0].text for one in told] == [one["evidence"] for one in things]


def test_key_figures_are_those_of_the_shop(busy: Command, out: Path) -> None:
    # 2 + 1 h on TP-1, two failures that lasted 1.5 h on the average; 0.5 h planned on PB-1
    figures = rows(section(page(busy, out), "Key figures"))
    assert figures["Hours down"] == ["3"]
    assert figures["Hours in planned stops"] == ["0.5"]
    assert figures["MTTR, hours"] == ["1.5"]
    assert figures["Hits"] == ["4,100"]


def test_the_period_before_stands_beside_it_where_it_is_known(busy: Command, out: Path) -> None:
    asked = ("--from", "2026-11-25", "--to", "2026-11-25")
    part = section(page(busy, out, *asked), "Key figures")
    assert rows(part)["Hours down"] == ["0", "3", "-3"]
    assert "Before: 24 Nov 2026 to 24 Nov 2026" in part.text
    assert "Nothing is known of the period before." in section(page(busy, out), "Key").text


def test_machines_and_causes_stand_in_tables(busy: Command, out: Path) -> None:
    found = page(busy, out)
    machines = rows(section(found, "By machine"))
    assert list(machines) == ["TP-1", "PB-1", "shop"]
    # three day shifts of 8.5 h and two night shifts of 8 h are 41.5 h; 38.5 / 41.5 = 92.8 %
    assert machines["TP-1"][:4] == ["41.5", "0", "3", "92.8 %"]
    assert "Without a stop: FE-1." in section(found, "By machine").text
    causes = rows(section(found, "By cause"))
    assert list(causes) == ["leak", HOSTILE, "changeover"]
    assert causes["leak"][:3] == ["1", "0", "2"]


def test_pictures_show_hours_hits_and_causes(busy: Command, out: Path) -> None:
    found = page(busy, out)
    assert found.titles == [
        "Downtime over throughput, week by week",
        "What stopped the machines unplanned, worst first",
        "Failures so far: TP-1",
    ]
    assert "Hits a week (TP-1)" in found.words("Downtime")
    # 2 of 3 h are 67 %
    assert "2.0 h in 1 stop; so far 67 % of all" in found.words("What stopped")
    said = section(found, "Downtime over").text
    assert "from 23 Nov 2026, had 3 h down unplanned and 0.5 h in planned stops" in said


def test_definitions_and_cautions_close_the_page(busy: Command, out: Path) -> None:
    found = page(busy, out)
    assert "ISO 22400-2" in section(found, "What the figures mean").text
    caution = section(found, "Before you act on it").text
    assert "association, not cause" in caution
    assert STANDING_CAUTION in caution


def test_a_shop_without_stops_and_hits_says_so_in_words(run: Command, out: Path) -> None:
    found = page(run, out)
    assert found.pictures == []
    assert [f.all("figcaption")[0].text for f in found.html.all("figure")] == [
        "Nothing to show: no stop and no output is known of these dates.",
        "Nothing to show: no unplanned stop is known of these dates.",
        "Nothing to show: no failure is known yet.",
        "Nothing to show: no job of these dates is decided yet.",
    ]
    assert "No stop is known of these dates." in section(found, "By cause").text


@pytest.mark.parametrize(
    "more",
    [
        ("--from", "2020-01-01", "--to", "2020-01-31"),
        ("--from", "2016-01-01", "--to", "2026-11-25"),
        ("--machine", "FE-1"),
        ("--by", "cause"),
        ("--by", "month", "--before"),
    ],
)
def test_any_dates_and_any_lines_make_a_page(
    busy: Command, out: Path, more: tuple[str, ...]
) -> None:
    assert page(busy, out, *more).html.all("h1")[0].text == "Downtime against throughput"


def test_a_period_of_many_years_is_drawn_by_months(busy: Command, out: Path) -> None:
    found = page(busy, out, "--from", "2023-01-01", "--to", "2026-11-25")
    assert found.titles[0] == "Downtime over throughput, month by month"


def test_the_page_is_the_same_every_time(busy: Command, out: Path) -> None:
    assert written(busy, out) == written(busy, out)


def test_a_hostile_name_stays_a_name(run: Command, out: Path, tmp_path: Path) -> None:
    shop = tmp_path / "hostile.yaml"
    text = Path(__file__).parents[1].joinpath("small_shop.yaml").read_text("utf-8")
    name = "</title><script>alert(1)</script>"
    shop.write_text(text.replace("name: Quillback Sheet Works", f"name: {name}"), "utf-8")
    assert run("apply", str(shop)).status == 0
    document = written(run, out)
    assert "<script" not in document
    assert name in taken_apart(document).html.all("title")[0].text


def test_json_and_the_page_go_together(busy: Command, out: Path) -> None:
    told = busy("report", *DATES, "--json", "--html", str(out))
    assert told.out.startswith("{")
    assert told.err == f"{out}: the report; any browser shows and prints it\n"


def test_the_page_is_never_the_store_and_its_folder_is_there(run: Command) -> None:
    run.refused(["report", *DATES, "--html", str(run.store)], 3, "this is the store")
    run.refused(["report", *DATES, "--html", "/nowhere/a.html"], 3, "no such file")


def test_without_the_library_it_is_told_how_to_get_it(
    busy: Command, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    asked = ["report", *DATES, "--html", str(out)]
    busy.refused(asked, 3, "install it with: pip install 'pmtrack[analysis]'")
    assert not out.exists()
