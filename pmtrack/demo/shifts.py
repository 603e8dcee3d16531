"""What the operators log: a few shifts are forgotten, a few counts are typed wrongly."""

from datetime import date, timedelta
from fractions import Fraction

from pmtrack.actions.recorder import Dial, NewShift, Recorder
from pmtrack.demo.floor import Floor
from pmtrack.demo.profile import READ_ON_ROUNDS
from pmtrack.demo.programs import Made
from pmtrack.demo.seed import chance, stream
from pmtrack.demo.year import Watch
from pmtrack.rules.shop import Machine

_FORGOTTEN = 0.012
_MISTAKES = 3  # in the year, each crossed out and logged again
_NOTICED_AFTER = timedelta(minutes=25)
_CARE = 4  # working days up to now in which no further log is forgotten
_EXCHANGED = ("PB-2", "hours")  # the counter that was replaced
_EXCHANGED_AFTER = timedelta(days=210)


class ShiftLogs:
    """Has the logs of finished shifts entered."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._draw = stream("shift logs")
        year = floor.year
        working = [day for day in year.days if day in year.workdays]
        firsts = {(day.year, day.month): day for day in reversed(working)}
        self._firsts_of_month = set(firsts.values())
        old = [day for day in year.days if not year.is_recent(day, 10)]
        self._mistakes = set(self._draw.sample(old, min(_MISTAKES, len(old))))
        self._exchange_on = year.moved(year.first + _EXCHANGED_AFTER, 1)
        self._forgotten = self._still_open()

    def _still_open(self) -> set[tuple[str, date, int]]:
        """The two logs missing now: one machine's last shift of the day before, another's first."""
        year = self._floor.year
        last = len(year.shifts(year.eve)) - 1
        logged = [m.code for m in self._floor.shop.machines if self._is_logged(m)]
        missing = ((logged[3:4], last), (logged[6:7], 0))
        return {(code, year.eve, place) for codes, place in missing for code in codes}

    @staticmethod
    def _is_logged(machine: Machine) -> bool:
        return bool(machine.meters) and machine.code not in READ_ON_ROUNDS

    def note(
        self, machine: Machine, shift: Watch, amounts: dict[str, Fraction], made: Made | None
    ) -> None:
        """Have what a machine made in a shift logged, unless it is forgotten."""
        if not self._is_logged(machine) or self._is_forgotten(machine.code, shift):
            return
        log = NewShift(
            machine=machine.code,
            shift=shift.name,
            day=shift.day,
            counts=amounts,
            dials=self._dials(machine, shift),
            parts=Fraction(made.parts) if made else None,
            scrap=Fraction(made.scrap) if made else None,
            program=made.program.code if made and made.program else None,
        )
        wrong = made is not None and shift.day in self._mistakes and shift.place == 0
        self._mistakes -= {shift.day} if wrong else set()
        self._enter(log, shift, wrong)

    def _is_forgotten(self, code: str, shift: Watch) -> bool:
        if self._floor.year.is_recent(shift.day, _CARE):
            return (code, shift.day, shift.place) in self._forgotten
        return chance(self._draw, _FORGOTTEN)

    def _dials(self, machine: Machine, shift: Watch) -> dict[str, Dial]:
        """Readings at the end of the first shift of a month, and of a new counter."""
        counters, dials = self._floor.counters[machine.code], {}
        if shift.place == 0 and shift.day in self._firsts_of_month:
            dials = {name: counter.read() for name, counter in counters.items()}
        code, meter = _EXCHANGED
        if (machine.code, shift.day, shift.place) == (code, self._exchange_on, 0):
            dials[meter] = counters[meter].exchange()
        return dials

    def _enter(self, log: NewShift, shift: Watch, wrong: bool) -> None:
        diary, by = self._floor.diary, self._floor.operator(log.machine, shift.place)
        minutes = timedelta(minutes=self._draw.randrange(0, 12))
        at = min(shift.end + minutes, self._floor.year.now)
        if wrong:
            diary.note(at, by, lambda recorder: self._mistype(recorder, log))
        else:
            diary.note(at, by, lambda recorder: recorder.shift(log))

    def _mistype(self, recorder: Recorder, log: NewShift) -> None:
        """Enter the log with a digit of its first count left out, and later mend it."""
        meter, right = next(iter(log.counts.items()))
        counts = {**log.counts, meter: Fraction(int(right / 10))}
        typed = NewShift(
            log.machine, log.shift, log.day, counts, {}, log.parts, log.scrap, log.program
        )
        number = recorder.shift(typed)
        diary = self._floor.diary

        def mend(mending: Recorder) -> None:
            diary.cross_out(number, f"a digit of the {meter} was left out")
            diary.recorder.shift(log)

        diary.note(recorder.now + _NOTICED_AFTER, recorder.by, mend)
