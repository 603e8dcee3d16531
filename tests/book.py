"""A shop's book of facts in memory, for tests of what is derived from all that was entered."""

import weakref
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from pmtrack.actions.crossing_out import void
from pmtrack.actions.operator import log_shift
from pmtrack.actions.recorder import Dial, NewShift, Recorder
from pmtrack.actions.setup import apply_shop
from pmtrack.actions.technician import NewCompletion, change_service, complete, defer
from pmtrack.actions.view import View
from pmtrack.rules.dates import parse_moment
from pmtrack.rules.due import TaskDue
from pmtrack.rules.facts import Moment
from pmtrack.rules.shop import Machine, Meter, Shop, Task
from pmtrack.store import Store, open_store
from tests.build import ZONE, at, day, shop

MEMORY = Path(":memory:")
# of books that are gone; the next book closes them, in the thread that opened them: garbage may be
# collected in another one, as of a test's server
_UNUSED: list[Store] = []


class Book:
    """A shop's store in memory, with short ways to write down what happened."""

    def __init__(self, tasks: Iterable[Task], where: Shop | None = None, **meter: object) -> None:
        """A punch TP-1 with the meter `hits` (its `expected` and `wraps_at`) and these tasks."""
        hits = Meter("hits", **meter)  # type: ignore[arg-type]
        self.now = at("12-31T12:00")
        self.shop = replace(
            where or shop(),
            machines=(Machine("TP-1", "Turret punch press", meters=(hits,)),),
            tasks=tuple(tasks),
        )
        while _UNUSED:
            _UNUSED.pop().close()
        self.store = open_store(MEMORY, create=True, now=self.now)
        weakref.finalize(self, _UNUSED.append, self.store)
        with self.store.writing():
            apply_shop(self.store, self.shop, at("01-02T08:00"), "Dana")

    def _recorder(self) -> Recorder:
        return Recorder(View(self.store, day("12-31")), self.now, "Dana")

    def count(self, on: str, hits: int, shift: str = "day") -> int:
        """A count of a shift of that date."""
        with self.store.writing():
            recorder = self._recorder()
            return log_shift(recorder, NewShift("TP-1", shift, day(on), {"hits": Fraction(hits)}))

    def dial(self, when: str, hits: int, mark: str = "") -> int:
        """A reading of the counter at a shop time."""
        with self.store.writing():
            recorder = self._recorder()
            shown = Dial(Fraction(hits), mark == "wrapped", mark == "exchanged")
            number = recorder.dials("TP-1", {"hits": shown}, parse_moment(f"2026-{when}", ZONE))
            recorder.finish()
        return number

    def done(self, code: str, when: str) -> int:
        """A completion of a task of TP-1, on a date or at a shop time."""
        with self.store.writing():
            recorder = self._recorder()
            moment = parse_moment(f"2026-{when}", ZONE)
            number, _ = complete(recorder, NewCompletion(f"TP-1/{code}", moment))
            recorder.finish()
        return number

    def defer(self, code: str, when: str, until: str) -> int:
        """A task put off through a date."""
        with self.store.writing():
            moment = parse_moment(f"2026-{when}", ZONE)
            return defer(self._recorder(), f"TP-1/{code}", day(until), "no seal kit", moment)

    def service(self, when: str, out: bool) -> int:
        """The machine taken out of service, or brought back."""
        with self.store.writing():
            moment = parse_moment(f"2026-{when}", ZONE)
            return change_service(self._recorder(), "TP-1", out, "no work for it", moment)

    def void(self, number: int) -> None:
        """Cross an entry out."""
        with self.store.writing():
            void(self._recorder(), number, "typed twice", Moment(day("12-31"), self.now))

    def view(self, on: str) -> View:
        """The shop as of the end of a day."""
        return View(self.store, day(on))

    def due(self, code: str, on: str) -> TaskDue:
        """How a task stands on a day."""
        view = self.view(on)
        return view.due(view.task(f"TP-1/{code}"))
