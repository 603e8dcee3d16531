"""Usage of a meter from its counts and dial readings: one fold over entries in time order."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.rules.facts import MeterEntry

ZERO = Fraction(0)


@dataclass(frozen=True)
class Tally:
    """Where a meter stands after an entry, counted from its level before the first entry.

    `offset` added to a dial reading gives usage; it is None until a dial has been read.
    `level` is what the first dial says the usage was before the first entry.
    """

    usage: Fraction = ZERO
    offset: Fraction | None = None
    level: Fraction = ZERO
    counted: bool = False  # whether a count came since the last dial
    unlogged: Fraction = ZERO

    @property
    def total(self) -> Fraction:
        """Usage of the meter, its level included."""
        return self.level + self.usage

    def then(self, entry: MeterEntry, wraps_at: Fraction | None) -> "Tally":
        """The tally after one more entry."""
        if not entry.is_dial:
            usage = self.usage + entry.value
            return Tally(usage, self.offset, self.level, True, self.unlogged)
        if self.offset is None or entry.exchanged:
            return self._fitted(entry)
        offset = self.offset + (wraps_at or ZERO if entry.wrapped else ZERO)
        usage = entry.value + offset
        gained = usage - self.usage if self.counted else ZERO
        return Tally(usage, offset, self.level, False, self.unlogged + gained)

    def _fitted(self, entry: MeterEntry) -> "Tally":
        """A first dial fixes the level; a new counter goes on from the usage so far."""
        offset = self.usage - entry.value
        level = self.level if entry.exchanged else -offset
        return Tally(self.usage, offset, level, False, self.unlogged)


def fold(
    entries: Iterable[MeterEntry], opening: Tally, wraps_at: Fraction | None
) -> Iterator[Tally]:
    """The tally after each entry; entries come in time order."""
    tally = opening
    for entry in entries:
        tally = tally.then(entry, wraps_at)
        yield tally


def day_totals(
    entries: list[MeterEntry], opening: Tally, wraps_at: Fraction | None
) -> dict[date, Fraction]:
    """Usage since the first entry's level at the end of each day with an entry, in day order.

    A night shift belongs to the day it starts on, so its entry may come, in time, after entries
    of the next day; then each day is folded from its own entries and those of days before.
    """
    days = [entry.day for entry in entries]
    if days == sorted(days):
        tallies = fold(entries, opening, wraps_at)
        return {entry.day: tally.usage for entry, tally in zip(entries, tallies, strict=True)}
    totals = {}
    for day in sorted(set(days)):
        *_, last = fold([e for e in entries if e.day <= day], opening, wraps_at)
        totals[day] = last.usage
    return totals
