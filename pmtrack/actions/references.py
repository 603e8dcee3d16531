"""What an entry may name: machines, meters, tasks, tools, materials, programs and shifts."""

from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.shop import Machine, Meter, Shift, Task


class References:
    """Finds by code what the shop file has; each refusal names what there is."""

    def __init__(self, view: View) -> None:
        self.view = view
        self.store = view.store
        self.shop = view.shop

    def machine(self, code: str) -> Machine:
        """The machine in the shop file of that code; Refused if there is none."""
        found = next((m for m in self.shop.machines if m.code == code), None)
        if found:
            return found
        if any(m.code == code for m in self.view.stored.past.machines):
            raise Refused(f"machine {code} is retired: it is no longer in the shop file")
        known = ", ".join(m.code for m in self.shop.machines)
        raise Refused(f"no machine '{code}'; the shop has {known}")

    def meter(self, machine: Machine, name: str) -> Meter:
        """The meter of a machine; Refused if it has none of that name."""
        found = machine.meter(name)
        if found is None:
            known = ", ".join(m.name for m in machine.meters) or "no meters"
            raise Refused(f"{machine.code} has no meter '{name}'; it has {known}")
        return found

    def task(self, name: str) -> Task:
        """The task of that name; Refused if there is none or it is retired."""
        task = self.view.task(name)
        retired = self.view.stored.retired_on.get(name)
        if retired:
            raise Refused(f"{name} is retired since {retired}: it is no longer in the shop file")
        return task

    def tool(self, code: str) -> str:
        """The code of a tool in the shop file; Refused if there is none."""
        if any(tool.code == code for tool in self.shop.tools):
            return code
        raise Refused(f"no tool '{code}'; see 'pmtrack tooling' for the tools of the shop")

    def material(self, code: str | None) -> str | None:
        """A material's code; Refused if it is not in the shop file."""
        if code is None or any(m.code == code for m in self.shop.materials):
            return code
        known = ", ".join(m.code for m in self.shop.materials) or "none"
        raise Refused(f"no material '{code}'; the shop file has {known}")

    def program(self, code: str | None) -> str | None:
        """A program's code; Refused if it is not in the shop file."""
        if code is None or any(p.code == code for p in self.shop.programs):
            return code
        known = ", ".join(p.code for p in self.shop.programs) or "none"
        raise Refused(f"no program '{code}'; the shop file has {known}")

    def shift_named(self, name: str) -> Shift:
        """The shift of that name; Refused if the shop has none."""
        found = self.shop.shift(name)
        if found is None:
            known = ", ".join(s.name for s in self.shop.shifts)
            raise Refused(f"no shift '{name}'; the shop has {known}")
        return found
