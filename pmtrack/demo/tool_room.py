"""The tool room: tools wear, are sharpened about when due, and a couple are replaced."""

from datetime import datetime, timedelta
from fractions import Fraction

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.tool_room import record_count, record_event
from pmtrack.demo.floor import Floor
from pmtrack.demo.people import TOOL_GRINDER
from pmtrack.demo.seed import stream
from pmtrack.demo.tool_life import ToolLife, draw_ending
from pmtrack.demo.year import Watch
from pmtrack.rules.facts import ToolEvent
from pmtrack.rules.shop import Program

_GROUND, _WORN = 0.75, 0.6  # at most, by the tool cards, of what can be ground, of an interval
_BEHIND = 6  # working days up to now in which the tool grinder has not caught up
_WORN_OUT, _LEFT = 0.93, 2  # share from which on, and how many, tools wait for him today
_PATIENCE = 1.15  # share of the interval to which tools are run then


class ToolRoom:
    """Every tool of the shop with its wear."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._draw = stream("tool room")
        self.lives = {tool.code: ToolLife(tool, tool.grindable) for tool in floor.shop.tools}
        self._factors = {m.code: m.factor for m in floor.shop.materials}

    # --- at adoption

    def copy_cards(self, at: datetime) -> None:
        """Enter from the tool cards how far each tool is ground down and worn."""
        for life in self.lives.values():
            grindings = self._ground_before(life)
            if grindings and life.tool.grind:
                mm = grindings * life.tool.grind
                self._grind(life, at, (mm, "planned"), "ground so far, by the tool card")
            self._copy_wear(life, at + timedelta(minutes=1))
            life.ending = draw_ending(self._draw)

    def _copy_wear(self, life: ToolLife, at: datetime) -> None:
        """The wear so far; a die has that of its punch, which comes before it in the file."""
        if life.tool.die_of:
            life.wear = self.lives[life.tool.die_of].wear
            return
        share = Fraction(self._draw.randrange(0, int(_WORN * 100)), 100)
        self.count(life.tool.code, at, life.tool.sharpen_every * share)

    def _ground_before(self, life: ToolLife) -> int:
        most = (
            life.tool.grindable / life.tool.grind if life.tool.grindable and life.tool.grind else 0
        )
        return int(float(most) * self._draw.uniform(0, _GROUND))

    # --- in the year

    def wear(self, program: Program, parts: int) -> None:
        """Wear the tools of a program, and their dies, by the parts made."""
        factor = self._factors.get(program.material or "", Fraction(1))
        for life in self.lives.values():
            hits = program.hits.get(life.tool.die_of or life.tool.code)
            if hits:
                life.wear += hits * parts * factor

    def gain(self, code: str, units: Fraction) -> None:
        """Wear a part by what the meter of its machine gained."""
        self.lives[code].wear += units

    def count(self, code: str, at: datetime, hits: Fraction) -> None:
        """Have hits of a tool entered that no program tells of."""
        self.lives[code].wear += hits
        moment = self._floor.moment(at)

        def write(recorder: Recorder) -> None:
            record_count(recorder, code, moment, (hits, None))

        self._floor.diary.note(at, TOOL_GRINDER, write)

    def look_after(self, shift: Watch) -> None:
        """Sharpen, early in a shift, the tools that have come to the end of a life."""
        for life in self._to_renew(shift):
            at = shift.start + timedelta(minutes=self._draw.randrange(25, 200))
            if at <= self._floor.year.now:
                self._renew(life, at)

    def _to_renew(self, shift: Watch) -> list[ToolLife]:
        """Those at the end of a life; of late only the worst, and before today all but two."""
        year = self._floor.year
        if shift.day == year.eve:
            worn = [life for life in self.lives.values() if life.used >= _WORN_OUT]
            return sorted(worn, key=lambda life: life.used)[:-_LEFT]
        least = _PATIENCE if year.is_recent(shift.day, _BEHIND) else 0.0
        return [life for life in self.lives.values() if life.used >= max(life.ending.used, least)]

    def _renew(self, life: ToolLife, at: datetime) -> None:
        if life.is_lost:
            note = "broke" if life.ending.broken else "ground down"
            note = note if life.tool.is_ground else "worn out"
            moment, why = self._floor.moment(at), life.ending.why
            self._note(ToolEvent(0, life.tool.code, moment, at, "replace", why=why), note)
            life.left = life.tool.grindable
        else:
            self._grind(life, at, (life.to_grind, life.ending.why))
        life.wear, life.ending = Fraction(0), draw_ending(self._draw)

    # --- entering

    def fit(self, code: str, at: datetime, place: tuple[str, str]) -> None:
        """Have a tool fitted in a station of a machine."""
        moment, (machine, station) = self._floor.moment(at), place
        self._note(ToolEvent(0, code, moment, at, "fit", machine=machine, station=station))

    def take_out(self, code: str, at: datetime) -> None:
        """Have a tool taken out of its station."""
        self._note(ToolEvent(0, code, self._floor.moment(at), at, "takeout"))

    def _grind(
        self, life: ToolLife, at: datetime, how: tuple[Fraction, str], note: str = ""
    ) -> None:
        (mm, why), moment = how, self._floor.moment(at)
        life.left = None if life.left is None else life.left - mm
        self._note(ToolEvent(0, life.tool.code, moment, at, "sharpen", mm=mm, why=why), note)

    def _note(self, event: ToolEvent, note: str = "") -> None:
        def write(recorder: Recorder) -> None:
            record_event(recorder, event, note)

        self._floor.diary.note(event.at, TOOL_GRINDER, write)
