"""The usage of many meters carried on by many new counts, without a look back for each."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction

from pmtrack.rules.usage import Tally
from pmtrack.store.codec import LARGEST_NUMBER, maybe_millionths, to_millionths
from pmtrack.store.database import Store
from pmtrack.store.tallies import FIRST, Key, MeterTallies

MeterName = tuple[str, str]  # machine and meter
NewCount = tuple[str, str, str, int, str, int]  # machine, meter, instant, entry, day, millionths

_COLUMNS = (
    "machine, meter, at, is_dial, entry, day, value, wrapped, exchanged,"
    " usage, dial_offset, level, counted, unlogged"
)
_LAST: Key = ("9999", True, 0)


@dataclass(slots=True)
class _Running:
    """Where a meter stands, in millionths: after its last entry, at `at`."""

    opened: Key  # the last entry that was there before
    at: str
    after_dial: bool  # a dial holds the counts of its own instant
    usage: int
    offset: int | None
    level: int
    unlogged: int
    behind: Key | None = None  # from where on it must be folded anew


class RunningTallies:
    """Adds counts to the usage of meters. `finish` must come last.

    Counts that come later than all that is known of their meter are added up; where others have
    slipped in before, the meter is folded anew from there.
    """

    def __init__(self, store: Store, wraps_at: Callable[[str, str], Fraction | None]) -> None:
        self._store = store
        self._wraps_at = wraps_at
        self._meters: dict[MeterName, _Running] = {}
        self.overflown: set[MeterName] = set()  # usage has grown past what can be kept

    def add(self, counts: Iterable[NewCount]) -> None:
        """Take some counts of entries made last."""
        rows, slipped = [], set()
        for machine, meter, at, entry, day, amount in sorted(counts):
            name = machine, meter
            running = self._meters.get(name) or self._open(name)
            if at < running.at or (running.after_dial and at == running.at):
                running.behind = min((at, False, entry), running.behind or _LAST)
                slipped.add(name)
            elif not running.behind:
                running.at, running.after_dial = at, False
                running.usage += amount
                if running.usage > LARGEST_NUMBER:
                    self.overflown.add(name)
                    running.usage = 0
            stands = running.usage, running.offset, running.level, 1, running.unlogged
            rows.append((machine, meter, at, 0, entry, day, amount, 0, 0, *stands))
        self._store.add_many("tally", _COLUMNS, rows)
        for name in slipped:
            running = self._meters[name]
            if running.behind and running.behind > running.opened:
                self._fold_anew(name, running.behind)
                self._open(name).opened = running.opened

    def finish(self) -> None:
        """Fold anew what came in before entries that were there already."""
        for name, running in self._meters.items():
            if running.behind:
                self._fold_anew(name, running.behind)

    def _fold_anew(self, name: MeterName, start: Key) -> None:
        try:
            MeterTallies(self._store, *name).refold(start, self._wraps_at(*name))
        except OverflowError:
            self.overflown.add(name)

    def _open(self, name: MeterName) -> _Running:
        key, tally = MeterTallies(self._store, *name).tail() or (FIRST, Tally())
        running = self._meters[name] = _Running(
            opened=key,
            at=key[0],
            after_dial=key[1],
            usage=to_millionths(tally.usage),
            offset=maybe_millionths(tally.offset),
            level=to_millionths(tally.level),
            unlogged=to_millionths(tally.unlogged),
        )
        return running
