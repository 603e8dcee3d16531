"""The stops of a machine, also of one that is gone."""

from dataclasses import replace

from pmtrack.actions.view import View
from pmtrack.rules.facts import Span, Stop
from pmtrack.rules.shoptime import ONE_DAY, end_of_day
from pmtrack.store import history


def machine_stops(view: View, machine: str) -> list[Stop]:
    """The stops of a machine; one that runs when the machine is retired ends with that."""
    found = history.stops(view.store, machine, view.day)
    gone = view.stored.gone_on.get(machine)
    if gone is None:
        return found
    end = end_of_day(gone - ONE_DAY, view.shop.shifts, view.shop.zone)
    return [replace(stop, span=Span(stop.span.start, stop.span.end or end)) for stop in found]
