"""What the counters on the machines show, which is more than the shift logs tell."""

from fractions import Fraction

from pmtrack.actions.recorder import Dial
from pmtrack.demo.year import Year
from pmtrack.rules.rate import per_working_day
from pmtrack.rules.shop import Machine, Meter

_DAYS_A_YEAR = 230
_LEAST_DAYS = 260  # work that every counter has seen, so that earlier readings are above 0


class Counter:
    """One counter: it turns with the machine, whether a shift is logged or not."""

    def __init__(self, meter: Meter, opening: Fraction, daily: Fraction = Fraction(0)) -> None:
        self.meter = meter
        self.daily = daily  # expected on a working day
        self.usage = opening
        self._fitted_at = Fraction(0)
        self._read_at = opening

    def run(self, amount: Fraction) -> None:
        """Count on."""
        self.usage += amount

    def read(self) -> Dial:
        """What the counter shows, and whether it started over since it was last read."""
        before, total = self._read_at - self._fitted_at, self.usage - self._fitted_at
        self._read_at, over = self.usage, self.meter.wraps_at
        if over is None:
            return Dial(total)
        return Dial(total % over, wrapped=total // over > before // over)

    def exchange(self) -> Dial:
        """Fit a new counter, which shows 0."""
        self._fitted_at = self._read_at = self.usage
        return Dial(Fraction(0), exchanged=True)


def expected_per_day(year: Year, meter: Meter) -> Fraction:
    """What a meter is expected to gain on a working day; 0 where the file does not say."""
    return per_working_day(year.shop, meter.expected) or Fraction(0)


def opening_counters(year: Year, machine: Machine) -> dict[str, Counter]:
    """A machine's counters as they stood at adoption, after its years of service."""
    started = machine.in_service or year.first
    years = Fraction(max((year.first - started).days, 0), 365)
    counters = {}
    for meter in machine.meters:
        daily = expected_per_day(year, meter)
        made, least = daily * _DAYS_A_YEAR * years, daily * _LEAST_DAYS
        room = meter.wraps_at - least if meter.wraps_at else Fraction(0)
        level = made % room if room > 0 else made
        counters[meter.name] = Counter(meter, Fraction(int(level + least)), daily)
    return counters
