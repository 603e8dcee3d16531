"""The text of a job for the technician: cautions first, then why, how and what to bring."""

from collections.abc import Iterable, Sequence

from pmtrack.rules.quantity import DECIMALS, show
from pmtrack.rules.shop import Machine, Part, Step, Supplier, Task

STANDING_CAUTION = (
    "Lockout/tagout by the shop's procedure, with stored energy released, before guards come off "
    "or hands go in. The maker's manual and local codes go before this sheet, which licenses "
    "nobody: electrical, gas, pressure and lifting work is for the trades licensed for it."
)


def job_text(
    task: Task, machine: Machine, supplier: Supplier | None, why_lines: Sequence[str]
) -> str:
    """The whole text, section by section; an empty section is left out. No line break at the end.

    `supplier` is the firm that `task.crew` names, None for in-house work.
    """
    sections = (
        ("CAUTIONS", [f"- {line}" for line in cautions_of(task, machine)]),
        ("WHY IT IS DUE", _filled(why_lines)),
        ("JOB", _job_lines(task, supplier)),
        ("STEPS", step_lines(task)),
        ("BRING", [f"- {line}" for line in part_lines(task)]),
        ("NOTE", [*task.note.strip().splitlines(), *machine.note.strip().splitlines()]),
    )
    blocks = [_flat(f"{machine.code} {machine.name}: {task.title}")]
    blocks += ["\n".join([heading, *lines]) for heading, lines in sections if lines]
    return "\n\n".join(blocks)


def cautions_of(task: Task, machine: Machine) -> list[str]:
    """The machine's cautions, then the task's, each once, then the standing one; never empty."""
    cautions = [*_filled(machine.cautions), *_filled(task.cautions)]
    once: dict[str, str] = {}
    for caution in cautions:
        once.setdefault(caution.casefold(), caution)
    return [*once.values(), STANDING_CAUTION]


def step_lines(task: Task) -> list[str]:
    """The steps, numbered from 1; a measured one with its limits and the name to record it by."""
    return [f"{number}. {_step(step)}" for number, step in enumerate(task.steps, start=1)]


def part_lines(task: Task) -> list[str]:
    """What to bring: `180 l hydraulic oil`, `2 x filter`, or the bare name for one piece."""
    return [_part(part) for part in task.parts]


def _job_lines(task: Task, supplier: Supplier | None) -> list[str]:
    """Task code, minutes, crew, whether the machine stands, and the law behind the job."""
    lines = [f"Task: {task.name}"]
    if task.minutes is not None:
        lines.append(f"Time: {task.minutes} min")
    lines.append(f"Crew: {crew_text(task, supplier)}")
    if task.machine_down:
        lines.append("The machine is down for this job.")
    if task.authority:
        lines.append(f"Demanded by: {_flat(task.authority)}")
    return lines


def crew_text(task: Task, supplier: Supplier | None) -> str:
    """Who does the work, and how long ahead an outside firm must be told."""
    if supplier is None:
        return task.crew or "in-house"
    days = "1 day" if supplier.notice == 1 else f"{supplier.notice} days"
    notice = f", notice {days}" if supplier.notice else ""
    return f"{_flat(supplier.name)} (outside firm{notice})"


def _step(step: Step) -> str:
    """One step; `Pump pressure: between 150 and 170 bar (record as pump-pressure)`."""
    text = _flat(step.text)
    if step.measure is None:
        return text
    limits = limits_text(step) or ("in" if step.unit else "")
    reading = f"{limits} {step.unit}".strip()
    asked = f"{text}: {reading}" if reading else text
    return f"{asked} (record as {step.measure})"


def limits_text(step: Step) -> str:
    """The limits of a measured step without their unit, empty if it has none."""
    low = None if step.low is None else show(step.low, DECIMALS)
    high = None if step.high is None else show(step.high, DECIMALS)
    if low is None:
        return "" if high is None else f"at most {high}"
    if high is None:
        return f"at least {low}"
    return f"exactly {low}" if low == high else f"between {low} and {high}"


def _part(part: Part) -> str:
    """One part with its quantity."""
    name, amount = _flat(part.name), show(part.quantity, DECIMALS)
    if part.unit:
        return f"{amount} {part.unit} {name}"
    return name if part.quantity == 1 else f"{amount} x {name}"


def _filled(lines: Iterable[str]) -> list[str]:
    """The lines that say something, each on one line."""
    return [flat for line in lines if (flat := _flat(line))]


def _flat(text: str) -> str:
    """Text on one line, with single blanks."""
    return " ".join(text.split())
