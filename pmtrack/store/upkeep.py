"""Looking after the store: a copy while others write, and a check of all that is in it."""

import sqlite3
from collections.abc import Callable
from pathlib import Path

from pmtrack.errors import PmtrackError, Refused
from pmtrack.rules.shop import Meter
from pmtrack.rules.usage import Tally, fold
from pmtrack.store import sound_facts, sound_file, sound_records
from pmtrack.store.codec import Damaged
from pmtrack.store.database import Store
from pmtrack.store.placing import what_is_there, write_new
from pmtrack.store.records import decode
from pmtrack.store.tallies import facts_of, kept_tallies
from pmtrack.store.trouble import UNREAD

Check = Callable[[Store], list[str]]


def back_up(store: Store, target: Path) -> None:
    """Copy the store to a new file, whole and checked. Raises Refused if the file exists."""
    for file in what_is_there(target):
        raise Refused(f"{file}: a file is here already; name a new one")
    if not target.parent.is_dir():
        raise Refused(f"{target.parent}: no such folder; make it first")
    write_new(store, target, wal=False)


def verify(store: Store) -> list[str]:
    """What is wrong with the store, a line each with its place; empty if nothing is."""
    return faults_of_facts(store) or faults_of_usage(store)


def faults_of_facts(store: Store) -> list[str]:
    """What is wrong with the file, the description, the entries and the saved plans."""
    faults: list[str] = []
    for part in (sound_file, sound_facts, sound_records):
        for name, check in part.CHECKS.items():
            faults += _told(name, check, store, faults)
    return list(dict.fromkeys(faults))


def faults_of_usage(store: Store) -> list[str]:
    """Where the usage kept beside the entries differs from what they tell, folded anew."""
    return _told("usage", _usage, store, [])


def _told(name: str, check: Check, store: Store, before: list[str]) -> list[str]:
    """What a check finds. Where it cannot read on, that is a fault, unless one is told already."""
    try:
        return check(store)
    except (sqlite3.Error, PmtrackError, *UNREAD) as error:
        what = error.what if isinstance(error, Damaged) else error
        return [] if before else [f"{name}: cannot be read: {what}"]


def _usage(store: Store) -> list[str]:
    faults = sound_file.worked_out(store)
    if faults:
        return faults
    faults = [
        f"{machine} {meter}: usage is kept of a meter that is not there"
        for machine, meter in store.rows(
            "SELECT DISTINCT machine, meter FROM tally EXCEPT SELECT machine, name FROM meter"
        )
    ]
    for machine, name, definition in store.rows("SELECT machine, name, definition FROM meter"):
        meter: Meter = decode(Meter, definition)
        entries = facts_of(store, machine, name)
        slow = list(zip(entries, fold(entries, Tally(), meter.wraps_at), strict=True))
        if slow != kept_tallies(store, machine, name):
            faults.append(f"{machine} {name}: the usage kept differs from its entries")
    return faults
