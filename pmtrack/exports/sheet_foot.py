"""The foot of a quarter's sheet: whom to call by when, what does not fit, what to know."""

from collections.abc import Iterable
from datetime import date

from pmtrack.exports.html_page import Html, day_text, joined, tag, text
from pmtrack.exports.job_text import STANDING_CAUTION
from pmtrack.exports.sheet_facts import QuarterSheet
from pmtrack.exports.sheet_grid import by_machine
from pmtrack.rules.plan import PlacedJob, UnfitJob, Visit
from pmtrack.rules.quantity import show


def foot(sheet: QuarterSheet) -> Html:
    """The sections that have something to say, and the caution, which always stands."""
    sections = (_calls(sheet), _unfit(sheet.unfit), _remarks(sheet), _caution())
    return tag("div", *(section for section in sections if section), class_="foot")


def _calls(sheet: QuarterSheet) -> Html:
    if not sheet.visits:
        return Html("")
    columns = ("Book by", "Visit on", "Firm and jobs")
    head = tag("tr", *(tag("th", text(column), scope="col") for column in columns))
    visits = sorted(sheet.visits, key=lambda visit: (visit.book_by, visit.name))
    rows = (_call(visit, sheet.made_on) for visit in visits)
    table = tag("table", tag("thead", head), tag("tbody", *rows))
    return _section("calls", "Calls to make", table)


def _call(visit: Visit, made_on: date) -> Html:
    by = tag("b", text(day_text(visit.book_by)))
    late = text(" has passed: call at once") if visit.book_by < made_on else Html("")
    firm = text(f"{visit.supplier.name}:")
    hours = f"({show(visit.minutes / 60)} h)" if visit.minutes else ""
    time = tag("span", text(hours), class_="time")
    work = joined((firm, *by_machine(visit.jobs), time), " ")
    cells = (joined((by, late)), text(day_text(visit.day)), work)
    return tag("tr", *(tag("td", cell) for cell in cells))


def _unfit(jobs: tuple[UnfitJob, ...]) -> Html:
    if not jobs:
        return Html("")
    return _section("unfit", "Does not fit: no day yet", tag("ul", *map(_unfit_job, jobs)))


def _unfit_job(job: UnfitJob) -> Html:
    law = " (§ demanded by law or standard)" if job.task.authority else ""
    due = f", due {day_text(job.due_on)}" if job.due_on else ""
    return tag(
        "li",
        tag("b", text(job.task.name)),
        text(f"{law}{due}: {_sentence(job.reason)} "),
        tag("b", text("Cure:")),
        text(f" {_sentence(job.cure)}") if job.cure else Html(" none known."),
    )


def _sentence(words: str) -> str:
    """Words with a full stop at the end."""
    bare = words.strip()
    return bare if bare.endswith((".", "!", "?")) else f"{bare}."


def _remarks(sheet: QuarterSheet) -> Html:
    """The notes, then each remark once with the jobs that it is about."""
    about: dict[str, list[PlacedJob]] = {}
    for job in sorted(sheet.jobs, key=lambda job: (job.day, job.task.name, job.key)):
        for remark in filter(str.strip, job.remarks):
            about.setdefault(remark, []).append(job)
    lines = [tag("li", text(note)) for note in sheet.notes if note.strip()]
    lines += [tag("li", *_remark(remark, jobs)) for remark, jobs in about.items()]
    return _section("remarks", "To know", tag("ul", *lines)) if lines else Html("")


def _remark(remark: str, jobs: Iterable[PlacedJob]) -> Iterable[Html]:
    named = (text(f"{job.task.name} on {day_text(job.day)}") for job in jobs)
    yield tag("b", joined(named, ", "))
    yield text(": ")
    yield Html(" ")
    yield text(_sentence(remark))


def _caution() -> Html:
    return _section("caution", "Before any of this work", tag("p", text(STANDING_CAUTION)))


def _section(kind: str, title: str, content: Html) -> Html:
    return tag("section", tag("h2", text(title)), content, class_=kind)
