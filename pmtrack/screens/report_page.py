"""A report as a page for a meeting: what to change first, then figures, pictures and tables."""

from pmtrack.actions.meeting import Meeting
from pmtrack.actions.report import Report
from pmtrack.exports.html_page import Html, joined, page, tag, text
from pmtrack.exports.job_text import STANDING_CAUTION
from pmtrack.exports.report_style import REPORT_STYLE
from pmtrack.rules.worth import Matter, Thing
from pmtrack.screens.advice_words import worth_words
from pmtrack.screens.report_page_pictures import failures_and_jobs, stop_causes, week_by_week
from pmtrack.screens.report_page_tables import causes_table, lines_table
from pmtrack.screens.report_page_words import MEANINGS, WARNINGS, dated, period_words
from pmtrack.screens.report_totals import Row, total_rows

_NOTES = {
    Matter.INTERVAL: "The maker's manual and the law go before a change of interval.",
    Matter.CAUSE: "A cure is taken to spare a quarter of a cause's hours: a guess, no source.",
}


def report_page(told: Meeting) -> str:
    """The document; the same facts give the same text. Raises Refused without the pictures."""
    return page(
        f"Downtime against throughput, {_of(told)}, {period_words(told.report)}",
        REPORT_STYLE,
        tag(
            "main",
            _head(told),
            _things(told),
            _key_figures(told.report),
            week_by_week(told),
            stop_causes(told),
            failures_and_jobs(told),
            lines_table(told.report),
            causes_table(told.report),
            _meanings(),
            _caution(),
        ),
    )


def _of(told: Meeting) -> str:
    single = told.report.machines[0].name if len(told.report.machines) == 1 else ""
    return f"{told.shop}, {single}" if single else told.shop


def _head(told: Meeting) -> Html:
    return tag(
        "header",
        tag("h1", text("Downtime against throughput")),
        tag(
            "p",
            tag("b", text(_of(told))),
            text(" "),
            tag("span", text(period_words(told.report))),
            text(" "),
            tag("span", text(f"made on {dated(told.made_on)}"), class_="made"),
        ),
    )


def _things(told: Meeting) -> Html:
    """What to change first, each with what it may save and the command that shows why."""
    if not told.things:
        said = "Nothing stands out: no job is late by law, and no change would save much."
        body = tag("p", text(said))
    else:
        body = tag("ul", *(_thing(n, one) for n, one in enumerate(told.things, start=1)))
    matters = {one.matter for one in told.things}
    notes = [note for matter, note in _NOTES.items() if matter in matters]
    rests = (
        f"All of it rests on what is known up to {dated(told.known_to)}, not on the period of this "
        "report alone. What a change may save is an estimate."
    )
    note = " ".join([*notes, rests])
    head = tag("h2", text("Three things to change"))
    return tag("section", head, body, tag("p", text(note), class_="note"), class_="things")


def _thing(number: int, one: Thing) -> Html:
    saved = (
        [] if one.saved is None else [f"May save about {worth_words(one.saved, one.money)} a year."]
    )
    late = [f"{one.days} days late."] if one.days else []
    said = " ".join([*saved, *late, "Evidence: "])
    return tag(
        "li",
        tag("b", text(f"{number}"), class_="number"),
        tag("span", text(one.what), class_="what"),
        tag("p", text(said), tag("code", text(f"pmtrack {one.evidence}"))),
    )


def _key_figures(report: Report) -> Html:
    """All together, beside the period before where anything is known of that."""
    earlier = report.earlier
    known = earlier is not None and _is_known(earlier)
    rows = [
        row
        for row in total_rows(report.shop, (earlier if known and earlier else report).shop)
        if row.now or (known and row.before)
    ]
    half = -(-len(rows) // 2)
    tables = (_figures(part, known) for part in (rows[:half], rows[half:]) if part)
    return tag(
        "section",
        tag("h2", text("Key figures")),
        tag("div", *tables, class_="pair") if rows else tag("p", text("No figure is known yet.")),
        tag("p", text(_beside(report)), class_="note"),
        class_="key",
    )


def _is_known(earlier: Report) -> bool:
    return earlier.known_from is not None and earlier.known_from <= earlier.last


def _beside(report: Report) -> str:
    earlier = report.earlier
    if earlier is None or not _is_known(earlier):
        return "Nothing is known of the period before."
    partly = ""
    if earlier.known_from and earlier.known_from > earlier.first:
        partly = f" Nothing was entered before {dated(earlier.known_from)}: not all is known of it."
    return f"Before: {period_words(earlier)}. Shares differ by points of a percent, pt.{partly}"


def _figures(rows: list[Row], known: bool) -> Html:
    heads = ("Now", "Before", "Difference") if known else ("This period",)
    cells = [(row.name, *row.cells[: len(heads)]) for row in rows]
    return tag(
        "table",
        tag("thead", tag("tr", tag("th"), *(tag("th", text(h), class_="n") for h in heads))),
        tag(
            "tbody",
            *(
                tag("tr", tag("th", text(name), scope="row"),
                    *(tag("td", text(value), class_="n") for value in values))
                for name, *values in cells
            ),
        ),
    )  # fmt: skip


def _meanings() -> Html:
    rows = (
        tag("tr", tag("th", text(name), scope="row"), tag("td", text(meaning)))
        for name, meaning in MEANINGS
    )
    body = tag("table", tag("tbody", *rows), class_="meanings")
    return tag("section", tag("h2", text("What the figures mean")), body)


def _caution() -> Html:
    lines = joined(tag("p", text(line)) for line in (*WARNINGS, STANDING_CAUTION))
    return tag("section", tag("h2", text("Before you act on it")), lines, class_="caution")
