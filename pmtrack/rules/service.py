"""A machine goes out of service and comes back by turns."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo


@dataclass(frozen=True)
class ServiceChange:
    """The entry by which a machine went out of service, or came back, at an instant."""

    entry: int
    at: datetime
    out: bool

    def told(self, zone: ZoneInfo) -> str:
        """When, in shop time, and by which entry."""
        return f"{self.at.astimezone(zone):%Y-%m-%dT%H:%M} (entry {self.entry})"


def turn_fault(
    machine: str, changes: Iterable[ServiceChange], new: int | None, zone: ZoneInfo
) -> str | None:
    """Why changes in the order of time cannot be, or None: out and back take turns, out first.

    `new` is the entry that is being made, None where one is being crossed out. An entry that is
    named as possibly wrong is always one that stands.
    """
    before = None
    for change in changes:
        if change.out != (before is not None and before.out):
            before = change
        elif change.entry == new:
            return _stands_so(machine, before, zone)
        else:
            return _follows(machine, (before, change), new, zone)
    return None


def _stands_so(machine: str, before: ServiceChange | None, zone: ZoneInfo) -> str:
    """The new one says what held already."""
    if before is None:
        return f"{machine} is in service and was not out before; nothing to bring back"
    if before.out:
        return (
            f"{machine} is out of service since {before.told(zone)}; 'pmtrack back {machine}' "
            f"ends it, and if it is wrong, cross out entry {before.entry} first"
        )
    return (
        f"{machine} is in service since {before.told(zone)}; "
        f"if that is wrong, cross out entry {before.entry} first"
    )


def _follows(
    machine: str,
    pair: tuple[ServiceChange | None, ServiceChange],
    new: int | None,
    zone: ZoneInfo,
) -> str:
    """An entry that stands could not have been after the new one, or without the one crossed out.

    A machine that is new to the list is in service.
    """
    before, after = pair
    goes = "goes out of service" if after.out else "comes back into service"
    other = "coming back" if after.out else "having gone out"
    told = f"{machine} {goes} at {after.told(zone)}"
    if new is None:
        since = f" since {before.told(zone)}" if before else ""
        return f"without it {told} without {other}{since}; cross out entry {after.entry} first"
    return (
        f"{told} without {other} in between; if that is wrong, cross out entry {after.entry} first"
    )
