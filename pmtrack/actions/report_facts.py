"""What a report reads: each machine's stops, shifts, jobs and work, read once."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from pmtrack.actions.arrival import first_in_shop
from pmtrack.actions.machine_stops import machine_stops
from pmtrack.actions.on_time import outcomes
from pmtrack.actions.view import View
from pmtrack.rules.facts import DaysOut, ShiftLog, Stop
from pmtrack.rules.on_time import JobOutcome
from pmtrack.rules.pm_work import DoneWork, Rates, done_work
from pmtrack.rules.shop import Machine, Task
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.store import history
from pmtrack.store.work_history import jobs_done


@dataclass(frozen=True)
class MachineFacts:
    """What happened on one machine; `demanded` are its jobs that a law or standard demands.

    From `came_on` on it is in the shop, of the dates that were asked about; from `gone_on` no more.
    """

    machine: Machine
    came_on: date
    gone_on: date | None
    out: list[DaysOut]
    stops: list[Stop]
    logs: list[ShiftLog]
    jobs: list[JobOutcome]
    demanded: list[JobOutcome]
    work: list[DoneWork]

    def there(self, first: date, last: date) -> tuple[date, date]:
        """The dates of a period on which the machine is in the shop; none end before they begin."""
        until = last if self.gone_on is None else min(last, self.gone_on - ONE_DAY)
        return max(first, self.came_on), until

    def bears_on(self, first: date, last: date) -> bool:
        """Whether it is in the shop on one of the dates, or had work on it or a job due then."""
        came, until = self.there(first, last)
        return (
            came <= until
            or any(first <= work.day <= last for work in self.work)
            or any(first <= job.due_on <= last for job in self.jobs)
        )


def read_facts(
    view: View, machines: Iterable[Machine], first: date, last: date
) -> list[MachineFacts]:
    """The facts of the machines on the dates from first to last, as known on the view's day."""
    work = _work(view, first, min(last, view.day))
    return [_facts(view, machine, (first, last), work[machine.code]) for machine in machines]


def _facts(
    view: View, machine: Machine, dates: tuple[date, date], work: list[DoneWork]
) -> MachineFacts:
    judged = [
        (task, outcome)
        for task in view.tasks
        if task.machine == machine.code
        for outcome in outcomes(view, task, *dates)
    ]
    return MachineFacts(
        machine=machine,
        came_on=first_in_shop(view, machine, dates[0]),
        gone_on=view.stored.gone_on.get(machine.code),
        out=view.days_out(machine.code),
        stops=machine_stops(view, machine.code),
        logs=history.shift_logs(view.store, machine.code, dates[0], min(dates[1], view.day)),
        jobs=[outcome for _, outcome in judged],
        demanded=[outcome for task, outcome in judged if task.authority],
        work=work,
    )


def _work(view: View, first: date, last: date) -> dict[str, list[DoneWork]]:
    """The jobs done on those days, by machine."""
    tasks: dict[str, Task] = {task.name: task for task in view.tasks}
    firms = {firm.code: firm for firm in (*view.stored.past.suppliers, *view.shop.suppliers)}
    done = [
        (tasks[name], day, minutes)
        for name, day, minutes in jobs_done(view.store, first, last)
        if name in tasks
    ]
    found: dict[str, list[DoneWork]] = defaultdict(list)
    for work in done_work(done, Rates(view.shop.crew_rate, firms)):
        found[work.machine].append(work)
    return found
