"""From the models of the file to the records of the rules."""

from pmtrack.rules.shop import (
    Closure,
    LastDone,
    Machine,
    Material,
    Meter,
    Part,
    Program,
    Shift,
    Shop,
    Step,
    Supplier,
    Task,
)
from pmtrack.shopfile import model
from pmtrack.shopfile.wear_parts import tools_of


def to_shop(file: model.ShopFile) -> Shop:
    """The whole shop; a task of the file becomes one task for each of its machines."""
    shop = file.shop
    return Shop(
        name=shop.name,
        timezone=shop.timezone,
        shifts=to_shifts(shop),
        closed=tuple(closure for entry in shop.closed for closure in _closures(entry)),
        crew_hours=shop.crew_hours,
        suppliers=tuple(_supplier(entry) for entry in file.suppliers),
        machines=tuple(_machine(entry) for entry in file.machines),
        tasks=tuple(_task(entry, m, shop) for entry in file.tasks for m in entry.machines),
        materials=tuple(Material(e.code, e.wear, e.thickness) for e in file.materials),
        tools=tuple(tool for entry in file.tooling for tool in tools_of(entry)),
        programs=tuple(Program(e.code, e.material, dict(e.hits)) for e in file.programs),
        crew_rate=shop.crew_rate,
    )


def to_shifts(shop: model.ShopEntry) -> tuple[Shift, ...]:
    """The shop's shifts."""
    return tuple(_shift(entry) for entry in shop.shifts)


def _shift(entry: model.ShiftEntry) -> Shift:
    weekdays = sorted({day for span in entry.days for day in span})
    return Shift(entry.name, tuple(weekdays), entry.start, entry.end)


def _closures(entry: model.ClosureEntry) -> list[Closure]:
    first, last = entry.on or entry.first, entry.on or entry.last
    return [Closure(first, last, entry.why)] if first and last else []


def _supplier(entry: model.SupplierEntry) -> Supplier:
    return Supplier(entry.code, entry.name, entry.notice, entry.callout_cost)


def _machine(entry: model.MachineEntry) -> Machine:
    return Machine(
        code=entry.code,
        name=entry.name,
        in_service=entry.in_service,
        meters=tuple(_meter(name, meter) for name, meter in entry.meters.items()),
        cautions=tuple(entry.cautions),
        note=entry.note,
        kind=entry.kind,
        hourly_rate=entry.hourly_rate,
    )


def _meter(name: str, entry: model.MeterEntry | None) -> Meter:
    if entry is None:
        return Meter(name)
    return Meter(name, entry.fastest, entry.expected, entry.wraps_at)


def _task(entry: model.TaskEntry, machine: str, shop: model.ShopEntry) -> Task:
    return Task(
        machine=machine,
        code=entry.code,
        title=entry.title,
        every=tuple(entry.every),
        on=entry.on,
        starts=entry.starts or shop.starts,
        last_done=_last_done(entry.last_done),
        grace=tuple(entry.grace),
        lead=tuple(entry.lead),
        minutes=entry.minutes,
        crew=entry.crew,
        covers=tuple(entry.covers),
        authority=entry.authority,
        machine_down=entry.machine_down,
        steps=tuple(_step(step) for step in entry.steps),
        parts=tuple(Part(part.part, part.quantity, part.unit) for part in entry.parts),
        cautions=tuple(entry.cautions),
        note=entry.note,
    )


def _last_done(entry: model.LastDoneEntry | None) -> LastDone | None:
    return LastDone(entry.on, dict(entry.__pydantic_extra__)) if entry else None


def _step(entry: model.StepEntry) -> Step:
    text = entry.text or entry.measure or ""
    return Step(text, entry.measure, entry.unit, entry.low, entry.high)
