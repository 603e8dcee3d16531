"""The shop file: bytes in, the shop's records or all faults out."""

from collections.abc import Iterable, Iterator

from pmtrack.rules.shop import Shop
from pmtrack.shopfile.catalog import catalog_of
from pmtrack.shopfile.checking import check_model
from pmtrack.shopfile.closures import closure_faults
from pmtrack.shopfile.convert import to_shifts, to_shop
from pmtrack.shopfile.document import Document, read_document
from pmtrack.shopfile.fault import Fault, Finding, Loc
from pmtrack.shopfile.last_done import Clock, last_done_faults
from pmtrack.shopfile.model import ShopFile
from pmtrack.shopfile.overlaps import overlap_faults
from pmtrack.shopfile.references import reference_faults
from pmtrack.shopfile.task_checks import task_faults
from pmtrack.shopfile.wear_parts import wear_part_faults

__all__ = ["read_shop"]


def read_shop(text: bytes, name: str, clock: Clock | None = None) -> tuple[Shop | None, list[str]]:
    """The shop that a file of that name describes and [], or None and every fault in line order.

    Without a clock, what is told as done may lie in the future.
    """
    document = read_document(text)
    file, found = _check(document, clock)
    faults = [*document.faults, *found]
    if file is None or faults:
        ordered = sorted(faults, key=lambda fault: fault.line)
        return None, list(dict.fromkeys(fault.render(name) for fault in ordered))
    return to_shop(file), []


def _check(document: Document, clock: Clock | None) -> tuple[ShopFile | None, list[Fault]]:
    if document.data is None:
        return None, []
    file, slips = check_model(document.data)
    slips = list(_beside(slips, document.broken))
    catalog = catalog_of(document, document.data)
    between = [
        *reference_faults(catalog),
        *task_faults(catalog),
        *wear_part_faults(catalog),
        *closure_faults(document.data),
        *(last_done_faults(document.data, clock) if clock else ()),
        *(overlap_faults(to_shifts(file.shop)) if file else ()),
    ]
    known = document.broken | {loc for loc, _ in slips}
    return file, [_placed(document, finding) for finding in (*slips, *_beside(between, known))]


def _beside(findings: Iterable[Finding], known: set[Loc]) -> Iterator[Finding]:
    """Findings at places where no fault is known yet, neither there nor in what holds them."""
    for loc, text in findings:
        if not any(loc[:depth] in known for depth in range(1, len(loc) + 1)):
            yield loc, text


def _placed(document: Document, finding: Finding) -> Fault:
    line, loc = document.locate(finding[0])
    return Fault(line, loc, finding[1])
