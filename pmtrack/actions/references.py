"""What an entry may name: machines, meters, tasks, tools, materials, programs and shifts."""

from datetime import date

from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.shop import Machine, Meter, Shift, Task, Tool
from pmtrack.rules.shoptime import ONE_DAY


class References:
    """Finds by code what the shop file has; each refusal names what there is."""

    def __init__(self, view: View) -> None:
        self.view = view
        self.store = view.store
        self.bare = view.bare

    def machine(self, code: str, day: date | None = None) -> Machine:
        """The machine of that code in the shop file, or in the shop on a day before it went.

        Refused if there is none.
        """
        found = self.view.stored.machine(code)
        if found:
            _check_there(f"machine {code}", self.view.stored.gone_on.get(code), day)
            return found
        known = ", ".join(m.code for m in self.view.shop.machines)
        raise Refused(f"no machine '{code}'; the shop has {known}")

    def meter(self, machine: Machine, name: str) -> Meter:
        """The meter of a machine; Refused if it has none of that name."""
        found = machine.meter(name)
        if found is None:
            known = ", ".join(m.name for m in machine.meters) or "no meters"
            raise Refused(f"{machine.code} has no meter '{name}'; it has {known}")
        return found

    def task(self, name: str, day: date | None = None) -> Task:
        """The task of that name; Refused if there is none, or it was retired by that day."""
        task = self.view.task(name)
        _check_there(name, self.view.stored.retired_day(name), day)
        return task

    def tool(self, code: str) -> Tool:
        """The tool of that code in the shop file; Refused if there is none."""
        for tool in self.view.stored.tools:
            if tool.code == code:
                return tool
        raise Refused(f"no tool '{code}'; see 'pmtrack tooling' for the tools of the shop")

    def material(self, code: str | None) -> str | None:
        """A material's code; Refused if it is not in the shop file."""
        if code is None or any(m.code == code for m in self.view.stored.materials):
            return code
        known = ", ".join(m.code for m in self.view.stored.materials) or "none"
        raise Refused(f"no material '{code}'; the shop file has {known}")

    def program(self, code: str | None) -> str | None:
        """A program's code; Refused if it is not in the shop file."""
        if code is None or any(p.code == code for p in self.view.stored.programs):
            return code
        known = ", ".join(p.code for p in self.view.stored.programs) or "none"
        raise Refused(f"no program '{code}'; the shop file has {known}")

    def shift_named(self, name: str) -> Shift:
        """The shift of that name; Refused if the shop has none."""
        found = self.bare.shift(name)
        if found is None:
            known = ", ".join(s.name for s in self.bare.shifts)
            raise Refused(f"no shift '{name}'; the shop has {known}")
        return found


def _check_there(what: str, retired: date | None, day: date | None) -> None:
    """Refused from the day on which it was retired; always where a day does not matter."""
    if retired is None or (day is not None and day < retired):
        return
    late = "" if day is None else f"; what happened up to {retired - ONE_DAY} is still taken"
    raise Refused(f"{what} is retired since {retired}: it is no longer in the shop file{late}")
