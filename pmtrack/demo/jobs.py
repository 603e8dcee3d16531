"""Doing a job: at a time of the day, with its minutes, readings, stop and findings."""

from datetime import date, datetime, timedelta
from fractions import Fraction

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.technician import NewCompletion, complete, in_limits
from pmtrack.demo.chain import Chain
from pmtrack.demo.floor import Floor
from pmtrack.demo.follow_ups import FollowUps
from pmtrack.demo.measures import Measures
from pmtrack.demo.people import technician
from pmtrack.demo.profile import FINAL_CHECKS
from pmtrack.demo.seed import chance, stream
from pmtrack.demo.stops import Outage, note_stop
from pmtrack.rules.shop import Task

_USUAL_MINUTES = 15
_BEFORE_THE_SHIFT = (-18, 7)  # minutes around its start in which the daily checks end
_EARLIEST, _FIRM_LATEST = 15, 60  # minutes into the shift at which other jobs begin
_NOTED = 0.06
_ADJUSTED = "out of limits, adjusted, then in limits"
_NOTES = (
    "all in order",
    "a little play, watch it",
    "screws were loose, tightened",
    "dirtier than usual",
    "weeps slightly, no drip",
    "part on order for next time",
)


class Jobs:
    """Has jobs done and entered."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._draw = stream("jobs")
        self._measures = Measures()
        self._follow_ups = FollowUps(floor)

    def do(self, chain: Chain, day: date) -> bool:
        """Do a job on a day; False if it would not be done by now."""
        start, end = self._check_span(chain, day) if chain.is_daily else self._span(chain, day)
        if end > self._floor.year.now:
            return False
        measured = self._measures.of(chain.task)
        done = NewCompletion(
            task=chain.task.name,
            moment=self._floor.moment(end),
            minutes=max(round((end - start).seconds / 60), 1),
            measured=measured,
            note=self._note(chain.task, measured),
        )
        self._enter(chain, done, (start, end))
        return True

    def _note(self, task: Task, measured: dict[str, Fraction]) -> str:
        values = ((step, measured[step.measure]) for step in task.steps if step.measure)
        if not all(in_limits(step, value) for step, value in values):
            return _ADJUSTED
        return self._draw.choice(_NOTES) if chance(self._draw, _NOTED) else ""

    def _enter(self, chain: Chain, done: NewCompletion, span: tuple[datetime, datetime]) -> None:
        task, (start, end) = chain.task, span
        by = self._floor.operator(task.machine) if chain.is_daily else self._by(chain)
        if task.machine_down:
            cause = "outside service" if task.crew else "planned maintenance"
            note_stop(self._floor, Outage(task.machine, cause, start, end, planned=True), by)
        raises = self._follow_ups.after(task, chain.length, done.moment.day)

        def write(recorder: Recorder) -> None:
            number, _ = complete(recorder, done)
            if raises:
                self._follow_ups.raise_from(recorder, task, number, end)

        self._floor.diary.note(end, by, write)

    def _by(self, chain: Chain) -> str:
        """Each machine has its technician; the other one helps out at times."""
        helps = chance(self._draw, 0.15)
        own = sum(map(ord, chain.task.machine))
        return technician(own + helps)

    def _check_span(self, chain: Chain, day: date) -> tuple[datetime, datetime]:
        """A daily check: about the first shift's start, or at its end when painting is over."""
        shift = self._floor.year.shifts(day)[0]
        end = shift.start + timedelta(minutes=self._draw.randint(*_BEFORE_THE_SHIFT))
        if chain.task.name in FINAL_CHECKS:
            end = shift.end - timedelta(minutes=self._draw.randint(2, 20))
        minutes = chain.task.minutes or _USUAL_MINUTES
        return end - timedelta(minutes=self._draw.choice((minutes, minutes, minutes + 2))), end

    def _span(self, chain: Chain, day: date) -> tuple[datetime, datetime]:
        """In the first shift while the machine is free; an outside firm comes early."""
        shift = self._floor.year.shifts(day)[0]
        usual = chain.task.minutes or _USUAL_MINUTES
        length = timedelta(minutes=int(usual * self._draw.uniform(0.85, 1.25)))
        room = (shift.end - shift.start - length) // timedelta(minutes=1)
        latest = _FIRM_LATEST if chain.task.crew else max(room, _FIRM_LATEST)
        start = shift.start + timedelta(minutes=self._draw.randrange(_EARLIEST, latest))
        start = self._floor.outages.free_from(chain.task.machine, start, length)
        return start, start + length
