"""From which day on a machine is in the shop."""

from datetime import date

from pmtrack.actions.view import View
from pmtrack.rules.shop import Machine
from pmtrack.store.first_day import first_day


def first_in_shop(view: View, machine: Machine, first: date) -> date:
    """The first day, of those from `first` on, on which a machine is in the shop.

    That is its `in_service`, or the day of a stop or shift of it that was entered for before then:
    it was there. Of a machine without `in_service` the shop file does not say that it came later.
    """
    if machine.in_service is None or machine.in_service <= first:
        return first
    own = first_day(view.store, machine.code)
    return max(first, machine.in_service if own is None else min(machine.in_service, own))
