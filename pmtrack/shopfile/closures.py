"""Checks of closed days: one day under `on`, or several under `from` and `to`."""

from collections.abc import Iterator

from pmtrack.shopfile.catalog import Entry, entries
from pmtrack.shopfile.fault import Finding


def closure_faults(data: Entry) -> Iterator[Finding]:
    """Closures that say too little or too much."""
    shop = data.get("shop")
    for loc, entry in entries(shop, "closed", ("shop",)) if isinstance(shop, dict) else ():
        given = [key for key in ("from", "to") if key in entry]
        if "on" in entry and given:
            yield (*loc, given[0]), "stands beside on; keep on for one day, from and to for several"
        elif not given and "on" not in entry:
            yield loc, "says no day; write on: 2026-11-26, or from: and to:"
        elif len(given) == 1:
            missing = "to" if given == ["from"] else "from"
            yield (*loc, missing), f"is missing; write {missing}: and a day, or on: for one day"
