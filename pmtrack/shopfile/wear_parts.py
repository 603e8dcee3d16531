"""Wear parts of the file: a die becomes a tool of its own, and what `counts` names must be."""

from collections.abc import Iterator

from pmtrack.rules.quantity import shorten
from pmtrack.rules.shop import Tool
from pmtrack.shopfile import model
from pmtrack.shopfile.catalog import Catalog, Entry, entries, texts
from pmtrack.shopfile.fault import Finding, instead

DIE = ".die"  # after the code of its punch


def tools_of(entry: model.ToolEntry) -> list[Tool]:
    """The tool that an entry describes, and its die if that wears apart from it."""
    tool = Tool(
        code=entry.code,
        machine=entry.machine,
        sharpen_every=entry.sharpen_every,
        kind=entry.kind,
        size=entry.size,
        grind=entry.grind,
        grindable=entry.grindable,
        replace_notice=entry.replace_notice,
        price=entry.price,
        counts=entry.counts,
        regrind_cost=entry.regrind_cost,
        failure_cost=entry.failure_cost,
    )
    return [tool, _die(entry.die, tool)] if entry.die else [tool]


def _die(entry: model.DieEntry, punch: Tool) -> Tool:
    return Tool(
        code=f"{punch.code}{DIE}",
        machine=punch.machine,
        sharpen_every=entry.sharpen_every,
        kind=f"{punch.kind}, die" if punch.kind else "die",
        size=punch.size,
        grind=entry.grind,
        grindable=entry.grindable,
        replace_notice=entry.replace_notice,
        price=entry.price,
        counts=punch.counts,
        die_of=punch.code,
    )


def wear_part_faults(catalog: Catalog) -> Iterator[Finding]:
    """Codes that a die has already, meters that are not there, hits of what wears by a meter."""
    yield from _dies_twice(catalog)
    metered: dict[str, str] = {}
    for loc, entry in entries(catalog.data, "tooling"):
        for at, meter in texts(entry, "counts", loc):
            metered.update({code: meter for _, code in texts(entry, "code")})
            for told in _meter_fault(catalog, entry, meter):
                yield at, told
    for loc, program in entries(catalog.data, "programs"):
        hits = program.get("hits")
        for tool in hits if isinstance(hits, dict) else ():
            if tool in metered:
                yield (*loc, "hits", tool), _told_by_meter(tool, metered[tool])


def _dies_twice(catalog: Catalog) -> Iterator[Finding]:
    for _, entry in entries(catalog.data, "tooling"):
        for _, code in texts(entry, "code"):
            taken = catalog.codes["tooling"].get(f"{code}{DIE}")
            if taken and "die" in entry:
                line = catalog.document.line(catalog.codes["tooling"][code])
                yield (
                    taken,
                    f"'{shorten(code)}{DIE}' is the die of the tool on line {line}; "
                    "give this one another code",
                )


def _meter_fault(catalog: Catalog, entry: Entry, meter: str) -> Iterator[str]:
    for _, machine in texts(entry, "machine"):
        meters = catalog.meters.get(machine)
        if meters is not None and meter not in meters:
            mend = instead(meter, meters, f"add it under the meters of {shorten(machine)}")
            yield f"{shorten(machine)} has no meter '{shorten(meter)}'; {mend}"


def _told_by_meter(tool: str, meter: str) -> str:
    return f"'{shorten(tool)}' wears by {shorten(meter)} of its machine; leave it out of the hits"
