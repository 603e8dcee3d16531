"""What the machines make in a shift, with the time that they stood still taken off."""

from datetime import timedelta
from fractions import Fraction
from functools import cached_property

from pmtrack.demo.counters import Counter
from pmtrack.demo.floor import Floor
from pmtrack.demo.metered_parts import MeteredParts
from pmtrack.demo.profile import COUNTS_PER_PART, FIRST_SHIFT_ONLY, ON_OVERTIME, STEADY
from pmtrack.demo.programs import Made, Runs, program_machine
from pmtrack.demo.seed import chance, stream
from pmtrack.demo.shifts import ShiftLogs
from pmtrack.demo.stops import Outage, note_stop
from pmtrack.demo.tool_room import ToolRoom
from pmtrack.demo.turret import Turret
from pmtrack.demo.year import Watch, pace
from pmtrack.rules.plausible import most_in
from pmtrack.rules.shop import Machine

_SCRAP = (0.0, 0.015)
_FULL = Fraction(97, 100)  # of the most that a machine can make while it is up
_CHANGEOVER = 0.6  # share of changes that take long enough to be entered as a stop


class Production:
    """Runs the machines through one shift after another."""

    def __init__(self, floor: Floor, tools: tuple[ToolRoom, MeteredParts], turret: Turret) -> None:
        self._floor = floor
        self._room, self._metered = tools
        self._turret = turret
        self._logs = ShiftLogs(floor)
        self._draw = stream("production")
        self._programmed = program_machine(floor.shop)
        self._runs = Runs(floor.shop) if self._programmed else None

    def prepare(self, shift: Watch) -> None:
        """Set up the next program before a shift, with the tools that it needs."""
        code, runs = self._programmed, self._runs
        if runs is None or code is None or self._floor.is_out(code, shift.day):
            return
        changed = runs.change()
        length = timedelta(minutes=self._draw.randrange(15, 35))
        at = self._floor.outages.free_from(code, shift.start + timedelta(minutes=5), length)
        self._turret.prepare(runs.program, at)
        end = at + length
        if changed and chance(self._draw, _CHANGEOVER) and end <= self._floor.year.now:
            outage = Outage(code, "changeover", at, end, planned=True)
            note_stop(self._floor, outage, self._floor.operator(code, shift.place))

    def run(self, shift: Watch) -> None:
        """What every machine makes in a shift that is over."""
        if shift.end > self._floor.year.now:
            return
        for machine in self._floor.shop.machines:
            if self._works(machine, shift):
                self._run(machine, shift)

    def _works(self, machine: Machine, shift: Watch) -> bool:
        code = machine.code
        if not machine.meters or (shift.place and code in FIRST_SHIFT_ONLY):
            return False
        overtime = shift.day not in self._floor.year.workdays
        return not self._floor.stands_still(code, shift.day) and (
            not overtime or code in ON_OVERTIME
        )

    def _run(self, machine: Machine, shift: Watch) -> None:
        down = self._floor.outages.inside(machine.code, shift.start, shift.end)
        up = max(shift.end - shift.start - down, timedelta(0))
        brisk = self._briskness(machine, shift) * (up / (shift.end - shift.start))
        counters = self._floor.counters[machine.code]
        amounts = {
            name: self._amount(machine, counter, brisk, up) for name, counter in counters.items()
        }
        made = self._made(machine.code, int(next(iter(amounts.values()))))
        if made and made.program:
            amounts[machine.meters[0].name] = Fraction(made.count)
            self._room.wear(made.program, made.parts + made.scrap)
        self._metered.run(machine.code, amounts)
        for name, amount in amounts.items():
            counters[name].run(amount)
        self._logs.note(machine, shift, amounts, made)

    def _briskness(self, machine: Machine, shift: Watch) -> float:
        noise = min(max(self._draw.gauss(1, 0.09), 0.75), 1.25)
        return 0.98 if machine.code in STEADY else pace(shift.day) * noise

    def _amount(self, machine: Machine, counter: Counter, brisk: float, up: timedelta) -> Fraction:
        """Units in one shift: whole ones, of hours to a tenth."""
        share = 1 if machine.code in FIRST_SHIFT_ONLY else self._shifts_a_day
        wanted, fastest = float(counter.daily) / share * brisk, counter.meter.fastest
        tenths = fastest is not None and fastest.per == "hour"
        if fastest is not None:
            wanted = min(wanted, float(most_in(fastest, up) * _FULL))
        return Fraction(int(wanted * 10), 10) if tenths else Fraction(int(wanted))

    @cached_property
    def _shifts_a_day(self) -> float:
        weekdays = [day for shift in self._floor.shop.shifts for day in shift.weekdays]
        return len(weekdays) / len(set(weekdays))

    def _made(self, code: str, count: int) -> Made | None:
        if self._runs and code == self._programmed:
            return self._runs.made(count)
        if code not in COUNTS_PER_PART:
            return None
        total = count // COUNTS_PER_PART[code]
        scrap = round(total * self._draw.uniform(*_SCRAP))
        return Made(None, total - scrap, scrap, count)
