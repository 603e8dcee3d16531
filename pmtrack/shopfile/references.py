"""Cross checks: codes that stand twice, and codes that nothing has."""

from collections.abc import Iterable, Iterator

from pmtrack.rules.quantity import shorten
from pmtrack.shopfile.catalog import Catalog, Entry, entries, texts
from pmtrack.shopfile.fault import Finding, Loc, instead

_KINDS = {
    "suppliers": "supplier",
    "machines": "machine",
    "materials": "material",
    "tooling": "tool",
    "programs": "program",
}


def reference_faults(catalog: Catalog) -> Iterator[Finding]:
    """Everything that is wrong between the entries of the file, but for the tasks' own rules."""
    for section in _KINDS:
        yield from _codes_twice(catalog, section)
    yield from _shifts_twice(catalog)
    yield from _tasks_twice(catalog)
    for loc, code, section in _references(catalog.data):
        if code not in catalog.codes[section]:
            yield loc, _unknown(code, section, catalog.codes[section])


def repeated(
    catalog: Catalog, named: Iterable[tuple[Loc, str]], what: str, mend: str
) -> Iterator[Finding]:
    """Names that an earlier place has already, with that place's line."""
    first: dict[str, Loc] = {}
    for loc, name in named:
        if name in first:
            line = catalog.document.line(first[name])
            yield loc, f"'{shorten(name)}' is already {what} on line {line}; {mend}"
        first.setdefault(name, loc)


def _codes_twice(catalog: Catalog, section: str) -> Iterator[Finding]:
    named = (n for loc, entry in entries(catalog.data, section) for n in texts(entry, "code", loc))
    return repeated(catalog, named, f"a {_KINDS[section]}", "give this one another code")


def _shifts_twice(catalog: Catalog) -> Iterator[Finding]:
    shop = catalog.data.get("shop")
    if isinstance(shop, dict):
        shifts = entries(shop, "shifts", ("shop",))
        named = (n for loc, shift in shifts for n in texts(shift, "name", loc))
        yield from repeated(catalog, named, "a shift", "give this one another name")


def _tasks_twice(catalog: Catalog) -> Iterator[Finding]:
    named = (
        ((*task.loc, "code"), f"{machine}/{task.code}")
        for task in catalog.tasks
        for machine in task.machines
        if task.code is not None
    )
    yield from repeated(catalog, named, "a task", "give this one another code")
    for task in catalog.tasks:
        machines = texts(task.entry, "machines", task.loc)
        yield from repeated(catalog, machines, "in this list", "keep one")


def _references(data: Entry) -> Iterator[tuple[Loc, str, str]]:
    """Every mention of a code: where, which, and the section that should have it."""
    for section, key, target in (
        ("tasks", "machines", "machines"),
        ("tasks", "crew", "suppliers"),
        ("tooling", "machine", "machines"),
        ("programs", "material", "materials"),
    ):
        for loc, entry in entries(data, section):
            yield from ((*at, target) for at in texts(entry, key, loc))
    for loc, program in entries(data, "programs"):
        hits = program.get("hits")
        for tool in hits if isinstance(hits, dict) else ():
            yield (*loc, "hits", tool), tool, "tooling"


def _unknown(code: str, section: str, known: dict[str, Loc]) -> str:
    otherwise = f"add it under {section}"
    if section == "suppliers":
        otherwise += ", or leave crew out for in-house work"
    return f"no {_KINDS[section]} has the code '{shorten(code)}'; {instead(code, known, otherwise)}"
