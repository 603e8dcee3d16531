"""Writes the invented facts in the order in which people would have entered them."""

from collections.abc import Callable
from datetime import datetime
from heapq import heappop, heappush
from itertools import count

from pmtrack.actions.crossing_out import void
from pmtrack.actions.recorder import Recorder
from pmtrack.actions.view import View
from pmtrack.demo.people import MANAGER
from pmtrack.demo.year import Year
from pmtrack.rules.facts import Moment
from pmtrack.rules.shoptime import local_date
from pmtrack.store.database import Store
from pmtrack.store.stored_shop import StoredShop, load_shop

Write = Callable[[Recorder], object]


class Diary:
    """Facts wait here until their time has come; what would be entered after now never is."""

    def __init__(self, store: Store, year: Year) -> None:
        self._store = store
        self._year = year
        self._waiting: list[tuple[datetime, int, str, Write]] = []
        self._numbers = count()
        self._recorder = self._new(load_shop(store))

    def _new(self, stored: StoredShop) -> Recorder:
        view = View(self._store, self._year.today, stored)
        return Recorder(view, self._year.adopted_at, MANAGER)

    def note(self, at: datetime, by: str, write: Write) -> None:
        """Have somebody enter a fact at an instant."""
        heappush(self._waiting, (at, next(self._numbers), by, write))

    def write_through(self, instant: datetime) -> None:
        """Enter all facts whose time has come by then."""
        while self._waiting and self._waiting[0][0] <= min(instant, self._year.now):
            at, _, by, write = heappop(self._waiting)
            self._recorder.now, self._recorder.by = at, by
            write(self._recorder)

    def settle(self) -> None:
        """Have what was entered so far checked, and the usage brought up to date."""
        self._recorder.finish()
        self._recorder = self._new(self._recorder.view.stored)

    def job_raised(self) -> None:
        """Settle, and know the new job from here on."""
        self._recorder.finish()
        self._recorder = self._new(load_shop(self._store))

    def cross_out(self, number: int, why: str) -> None:
        """Void an entry at the time and by the person of the fact at hand."""
        now, by = self._recorder.now, self._recorder.by
        self.settle()
        self._recorder.now, self._recorder.by = now, by
        void(self._recorder, number, why, Moment(local_date(now, self._year.shop.zone), now))

    @property
    def recorder(self) -> Recorder:
        """The recorder of the fact at hand."""
        return self._recorder
