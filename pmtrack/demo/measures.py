"""What is read at the measured steps of a job: within the limits, with rare exceptions."""

from fractions import Fraction
from random import Random

from pmtrack.demo.seed import chance, stream
from pmtrack.rules.shop import Step, Task

_OUT_OF_LIMITS = 0.003
_AIR = (20.7, 20.9)  # oxygen in air, in % by volume
_WHOLE = ("class",)  # units that come in whole numbers


class Measures:
    """Draws readings."""

    def __init__(self) -> None:
        self._draw = stream("measures")

    def of(self, task: Task) -> dict[str, Fraction]:
        """A value for each measured step of a task."""
        return {
            step.measure: _rounded(step, self._value(step)) for step in task.steps if step.measure
        }

    def _value(self, step: Step) -> float:
        if step.measure == "oxygen":
            return self._draw.uniform(*_AIR)
        out, (low, high) = chance(self._draw, _OUT_OF_LIMITS), _band(step)
        if out and step.high is not None:
            return float(step.high) * 1.06
        return _usual(self._draw, low, high)


def _usual(draw: Random, low: float, high: float) -> float:
    """A value in the middle of what is allowed."""
    return draw.triangular(low + (high - low) * 0.15, high - (high - low) * 0.15)


def _band(step: Step) -> tuple[float, float]:
    """Between which values a reading lies; an open side is taken from the limit of the other."""
    low = None if step.low is None else float(step.low)
    high = None if step.high is None else float(step.high)
    if low is None:
        top = high or 0.0
        return top * 0.35, top * 0.9
    if high is None:
        high = 100.0 if step.unit == "%" else low * 1.35
    return low, high


def _rounded(step: Step, value: float) -> Fraction:
    """As finely as the instrument shows it."""
    limit = abs(float(step.high or step.low or 0))
    decimals = next((d for d, least in enumerate((50, 5, 0.5)) if limit >= least), 3)
    return Fraction(round(value, 0 if step.unit in _WHOLE else decimals)).limit_denominator(1000)
