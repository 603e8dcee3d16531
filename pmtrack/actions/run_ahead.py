"""Before a job starts: its tools as they stand, against what the run asks of them."""

from dataclasses import dataclass
from datetime import datetime

from pmtrack.actions.references import References
from pmtrack.actions.tooling import ToolRecords
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.planned_jobs import used_on
from pmtrack.rules.rate import span_start
from pmtrack.rules.run_ahead import RunAhead, ToolInRun
from pmtrack.rules.tool_events import last_station
from pmtrack.rules.wear import ToolWear
from pmtrack.rules.worklist import MissingLog, missing_logs
from pmtrack.store import history


@dataclass(frozen=True)
class Job:
    """What is to be run: whole parts, at least one; material and machine where they are said."""

    program: str
    parts: int
    material: str | None = None
    machine: str | None = None


@dataclass(frozen=True)
class Preparation:
    """A run looked at before it starts, and what makes the look unsure."""

    run: RunAhead
    out_of_service: bool
    missing: list[MissingLog]  # shifts of the machine that may have worn the tools further


def prepare(view: View, job: Job, now: datetime) -> Preparation:
    """What a job asks of its tools. Refused for unknown names, or where no machine is plain."""
    known = References(view)
    known.program(job.program)
    known.material(job.material)
    if job.machine is not None:
        known.machine(job.machine)
    records = ToolRecords(view)
    wears = _tools(view, records, job)
    machine = job.machine or _machine_of(job.program, wears)
    return Preparation(
        run=_run(view, records, job, (machine, used_on(wears, machine))),
        out_of_service=view.machine_days(machine)[1],
        missing=_missing(view, machine, now),
    )


def _tools(view: View, records: ToolRecords, job: Job) -> list[ToolWear]:
    """The tools that a part of the program hits with."""
    factors = records.factors
    wears = records.wears(*(t for t in view.shop.tools if factors.hits_per_part(t, job.program)))
    if not wears:
        raise Refused(
            f"{job.program} hits with no tool; write its hits for a part under programs in the "
            "shop file"
        )
    return wears


def _machine_of(program: str, wears: list[ToolWear]) -> str:
    """The machine that all the tools belong to."""
    machines = list(dict.fromkeys(wear.tool.machine for wear in wears))
    if len(machines) > 1:
        named = " or ".join(f"--machine {machine}" for machine in machines)
        raise Refused(f"{program} uses tools of {' and '.join(machines)}; say {named}")
    return machines[0]


def _run(view: View, records: ToolRecords, job: Job, where: tuple[str, list[ToolWear]]) -> RunAhead:
    machine, wears = where
    material = records.factors.material_of(job.program, job.material)
    factor = records.factors.of(material)
    tools = []
    places = {bare.tool.code: bare.places for bare in records.bare(*(w.tool for w in wears))}
    for wear in wears:
        hits = records.factors.hits_per_part(wear.tool, job.program)
        station = last_station(places[wear.tool.code], machine)
        tools.append(ToolInRun(wear, machine, job.parts, hits, hits * factor, station))
    record = view.stored.machine(machine)
    meter = record.meter("hits") if record else None
    return RunAhead(
        program=job.program,
        parts=job.parts,
        material=material,
        machine=machine,
        tools=tuple(tools),
        fastest=meter.fastest if meter else None,
    )


def _missing(view: View, machine: str, now: datetime) -> list[MissingLog]:
    """Shifts of the last days that nobody has logged for a machine logged by shift."""
    days = view.machine_days(machine)[0]
    first = span_start(view.day, days)
    logged = history.logged_shifts(view.store, machine, first, view.day)
    return missing_logs(view.shop, {machine: (days, logged)}, view.day, now) if logged else []
