"""Job cards to take to the machine: one job, one page, cautions first, blanks to fill in."""

import shlex
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pmtrack.exports.card_style import CARD_STYLE
from pmtrack.exports.html_page import Html, day_text, joined, page, tag, text
from pmtrack.exports.job_text import cautions_of, crew_text, limits_text, part_lines
from pmtrack.rules.plan import PlacedJob
from pmtrack.rules.shop import Machine, Step, Supplier, Task

BOX = tag("span", class_="box", role="img", aria_label="box to tick")
BLANK = tag("span", class_="blank", role="img", aria_label="blank to fill in")
_FINDING_LINES = 3
_GAP = "__"  # stands in the command for what the technician found


@dataclass(frozen=True)
class JobCard:
    """A planned job with its machine, the firm that does it (None in-house), and why it is due."""

    job: PlacedJob
    machine: Machine
    supplier: Supplier | None = None
    why: tuple[str, ...] = ()


def job_cards(cards: Sequence[JobCard]) -> str:
    """The document; the cards stand in the order given."""
    return page("Job cards", CARD_STYLE, tag("main", *map(_card, cards)))


def done_command(task: Task, machine: Machine) -> str:
    """What records the job afterwards, with a gap for each figure, fit for a shell."""
    words = ["pmtrack", "done", task.name, "--minutes", _GAP]
    for meter in machine.meters:
        words += ["--dial", f"{meter.name}={_GAP}"]
    for step in task.steps:
        if step.measure is not None:
            words += ["--measure", f"{step.measure}={_GAP}"]
    return shlex.join(words)


def _card(card: JobCard) -> Html:
    sections = (
        _cautions(card),
        _heading(card),
        _facts(card),
        _steps(card.job.task),
        _parts(card.job.task),
        _notes(card),
        _record(card),
        _command(card),
    )
    return tag("article", *(section for section in sections if section))


def _cautions(card: JobCard) -> Html:
    lines = (tag("li", text(line)) for line in cautions_of(card.job.task, card.machine))
    return _section("cautions", "Cautions: read before you begin", tag("ul", *lines))


def _heading(card: JobCard) -> Html:
    task = card.job.task
    name = tag("span", text(f"{card.machine.code} {card.machine.name}"), class_="machine")
    return tag("header", tag("h1", text(task.name)), name, tag("p", text(task.title)))


def _facts(card: JobCard) -> Html:
    lines = (
        tag("li", tag("b", text(name)), tag("span", text(value)))
        for name, value in _told(card)
        if value
    )
    return tag("ul", *lines, class_="facts")


def _told(card: JobCard) -> Iterable[tuple[str, str]]:
    """What is known of the job, in pairs of name and value; an empty value is left out."""
    job, task = card.job, card.job.task
    first, last = job.window
    span = job.due_range
    yield "Planned for", f"{job.day:%a %Y-%m-%d}{', fixed to this day' if job.pinned else ''}"
    yield "Due", f"{job.due_on:%a %Y-%m-%d}"
    yield "Expected between", f"{day_text(span[0])} and {day_text(span[1])}" if span else ""
    yield "May be done from", f"{day_text(first)} to {day_text(last)}"
    yield "Why due", " ".join(card.why or job.why)
    yield "Demanded by", f"§ {task.authority}: never after its due day" if task.authority else ""
    yield "Crew", crew_text(task, card.supplier)
    yield "Visit", job.visit or ""
    yield "Time", f"{task.minutes} min" if task.minutes is not None else ""
    yield "Machine", "DOWN for this job" if task.machine_down else ""
    yield "Remarks", " ".join(job.remarks)


def _steps(task: Task) -> Html:
    if not task.steps:
        return Html("")
    head = tag("th", text(f"Steps of {task.name}"), colspan="3", scope="col")
    reading = tag("th", text("Limits and reading"), scope="col")
    rows = (_step(number, step) for number, step in enumerate(task.steps, start=1))
    top = tag("thead", tag("tr", head, reading))
    return tag("table", top, tag("tbody", *rows), class_="steps")


def _step(number: int, step: Step) -> Html:
    named = f" (record as {step.measure})" if step.measure is not None else ""
    told = joined((text(step.text), tag("span", text(named), class_="name")))
    cells = (BOX, text(f"{number}."), told, _reading(step))
    return tag("tr", *(tag("td", cell) for cell in cells))


def _reading(step: Step) -> Html:
    """The limits and a blank with the unit behind it; nothing for a step that measures nothing."""
    if step.measure is None:
        return Html("")
    limits = limits_text(step)
    told = tag("b", text(f"{limits} {step.unit}".strip())) if limits else Html("")
    return joined((told, tag("span", BLANK, text(f" {step.unit}"), class_="reading")), " ")


def _parts(task: Task) -> Html:
    lines = [tag("li", BOX, text(f" {line}")) for line in part_lines(task)]
    return _section("parts", "Parts and consumables", tag("ul", *lines)) if lines else Html("")


def _notes(card: JobCard) -> Html:
    notes = f"{card.job.task.note}\n{card.machine.note}".splitlines()
    lines = [tag("p", text(note)) for note in notes if note.strip()]
    return _section("notes", "Note", *lines) if lines else Html("")


def _record(card: JobCard) -> Html:
    """The lines to write on: findings, figures, and who did it."""
    ruled = (tag("div", class_="ruled") for _ in range(_FINDING_LINES))
    counters = (f"Counter {meter.name}" for meter in card.machine.meters)
    names = ("Minutes taken", *counters, "Date", "Name", "Signature")
    blanks = (tag("li", tag("span", text(name)), BLANK) for name in names)
    label = tag("p", text("Found, and what is to follow:"))
    return _section("record", "Record", label, *ruled, tag("ul", *blanks))


def _command(card: JobCard) -> Html:
    task = card.job.task
    command = tag("p", tag("code", text(done_command(task, card.machine))))
    extra = tag(
        "p",
        text("Fill in the gaps; leave out a counter that was not read. Done earlier: add "),
        *(_option("--at DATE"), text(". A job found: add "), _option(f"--follow-up '{_GAP}'")),
        *(text(". A remark: add "), _option(f"--note '{_GAP}'"), text(".")),
    )
    return _section("command", "Afterwards, in pmtrack", command, extra)


def _option(words: str) -> Html:
    return tag("span", text(words), class_="option")


def _section(kind: str, title: str, *content: Html) -> Html:
    return tag("section", tag("h2", text(title)), *content, class_=kind)
