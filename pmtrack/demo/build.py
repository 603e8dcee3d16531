"""Builds the demo: the shop applied a year ago, and every day since."""

from datetime import date, datetime

from pmtrack.demo.adoption import OldBinder
from pmtrack.demo.board import Board
from pmtrack.demo.breakdowns import Breakdowns
from pmtrack.demo.diary import Diary
from pmtrack.demo.floor import Floor
from pmtrack.demo.idle import note_idle
from pmtrack.demo.metered_parts import MeteredParts
from pmtrack.demo.people import MANAGER
from pmtrack.demo.production import Production
from pmtrack.demo.rounds import Rounds
from pmtrack.demo.tool_room import ToolRoom
from pmtrack.demo.turret import Turret
from pmtrack.demo.upkeep import Upkeep
from pmtrack.demo.year import Year
from pmtrack.rules.shop import Shop
from pmtrack.store.database import Store
from pmtrack.store.description import save_shop


def build_demo(store: Store, shop: Shop, now: datetime) -> None:
    """Apply the shop a year before `now` to an empty store, and add a year of invented facts.

    Must run inside one transaction. The same shop and `now` always give the same facts.
    """
    year = Year(shop, now)
    save_shop(store, shop, year.adopted_at, year.first, MANAGER)
    history = _History(Floor(year, Diary(store, year)))
    history.open_books()
    for day in year.days:
        history.live(day)
    history.close()


_FIRST_DAYS = 3  # of a month, when what was entered so far is checked


class _History:
    """All subjects of the history, led through the year together."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._upkeep = Upkeep(floor)
        self._board = Board(self._upkeep)
        self._breakdowns = Breakdowns(floor)
        self._rounds = Rounds(floor)
        self._room = ToolRoom(floor)
        self._turret = Turret(floor.shop, self._room)
        self._metered = MeteredParts(floor, self._room)
        self._production = Production(floor, (self._room, self._metered), self._turret)

    def open_books(self) -> None:
        """What is entered on the first day before work begins."""
        at = self._floor.year.adopted_at
        self._rounds.open_books()
        OldBinder(self._upkeep).copy()
        self._room.copy_cards(at)
        self._turret.load(at)
        self._metered.load()
        for span in self._floor.idle:
            note_idle(self._floor.diary, self._floor.year, span)

    def live(self, day: date) -> None:
        """One day: the jobs, then shift by shift what breaks and what is made."""
        year = self._floor.year
        shifts = [shift for shift in year.shifts(day) if shift.start <= year.now]
        for shift in shifts[:1]:
            self._rounds.walk(shift)
            self._room.look_after(shift)
        self._upkeep.work(day)
        if day == year.eve:
            self._board.clear(day)
        for shift in shifts:
            self._production.prepare(shift)
            self._metered.prepare(shift)
            self._breakdowns.run(shift, self._upkeep.ages(day))
            self._production.run(shift)
            self._floor.diary.write_through(shift.start)
        if day.day <= _FIRST_DAYS:
            self._floor.diary.settle()

    def close(self) -> None:
        """Enter what is left up to now, and have all of it checked."""
        self._floor.diary.write_through(self._floor.year.now)
        self._floor.diary.settle()
