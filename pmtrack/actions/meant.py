"""A code as it was typed for the code that is meant: whether letters are small or big is no matter.

What is not found so stays as it was typed, for the refusal to name.
"""

from collections.abc import Iterable

from pmtrack.actions.view import View


def machine_meant(view: View, text: str) -> str:
    """A machine's code."""
    if view.stored.machine(text):
        return text
    return _alike(text, (machine.code for machine in view.stored.machines))


def task_meant(view: View, text: str) -> str:
    """A task's name: that of its machine, a stroke, and its code."""
    if view.stored.task(text):
        return text
    machine, _, code = text.partition("/")
    known = view.stored.tasks_of(machine_meant(view, machine)) if code else ()
    return _alike(text, (task.name for task in known))


def tool_meant(view: View, text: str) -> str:
    """A tool's code."""
    return _alike(text, (tool.code for tool in view.stored.tools))


def material_meant(view: View, text: str) -> str:
    """A material's code."""
    return _alike(text, (material.code for material in view.stored.materials))


def program_meant(view: View, text: str) -> str:
    """A program's code."""
    return _alike(text, (program.code for program in view.stored.programs))


def shift_meant(view: View, text: str) -> str:
    """A shift's name."""
    return _alike(text, (shift.name for shift in view.bare.shifts))


def _alike(text: str, codes: Iterable[str]) -> str:
    """The code of those letters; as typed where it is one itself, or where several are alike."""
    alike = {code for code in codes if code.casefold() == text.casefold()}
    return alike.pop() if len(alike) == 1 else text
