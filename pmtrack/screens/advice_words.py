"""The advice on intervals in words: what to do, why, and what it rests on."""

from pmtrack.actions.advice import TaskAdvice
from pmtrack.rules.quantity import show
from pmtrack.rules.sensible import DAYS, length
from pmtrack.statistics.interval_advice import Verdict
from pmtrack.statistics.overhaul_interval import Best, Brake
from pmtrack.statistics.rounds_fit import FEWEST, FEWEST_ROUNDS

_FEW = 12  # failures below which the advice says that they are few; common practice, no source

BRAKES = {
    Brake.NEAR: "the present interval is as good as the best",
    Brake.UNSURE: "the range of the best interval holds the present one",
    Brake.ONE_STEP: "hardly a round was longer yet, so it goes one step: look again later",
    Brake.TOO_FAR: "the next longer interval is too far beyond what was seen",
    Brake.LAW: "a law or standard demands it: never lengthened on the strength of figures",
}
NOTES = (
    f"A number takes at least {FEWEST} failures in {FEWEST_ROUNDS} rounds from job to job. Ranges "
    "hold 8 times in 10; an interval is changed only where its whole range is on one side.",
    "The maker's manual and the law go before this advice. Breakdowns do not count injuries: ask "
    "who answers for safety before a check gets rarer.",
    "All tasks of a machine are judged by the same failures: change one interval of it at a time.",
)


def verdict_words(one: TaskAdvice) -> str:
    """`shorten to 3 weeks`, `keep`, or why there is no number."""
    if one.refusal:
        return f"no number: {one.refusal}"
    if one.advised is None:
        return "keep"
    return f"{one.verdict} to {one.advised.text}"


def about(amount: float) -> str:
    """An amount to two places that count: 1,331 as 1,300."""
    digits = len(str(int(abs(amount)))) if abs(amount) >= 1 else 0
    return show(round(amount, 2 - digits), max(2 - digits, 0))


def worth_words(amount: float | None, money: bool) -> str:
    """What something saves in a year: `1,300`, or in hours."""
    return "-" if amount is None else f"{about(amount)}{'' if money else ' h'}"


def saved_words(one: TaskAdvice) -> str:
    """What the change saves in a year."""
    return worth_words(one.saved_a_year, one.costs is not None and one.costs.rates.money)


def span_words(one: TaskAdvice, hours: float | None) -> str:
    """Operating hours as the interval's unit: 24 days, 180,000 hits."""
    if hours is None or one.hours is None:
        return "-"
    amount = length(one.interval) * hours / one.hours
    unit = "days" if one.interval.unit in DAYS else one.interval.unit.replace("_", " ")
    return f"{about(amount)} {unit}"


def best_words(one: TaskAdvice, best: Best) -> str:
    """The cheapest interval with its range, like 18 days (16 to 20)."""
    value = "none" if best.interval is None else span_words(one, best.interval)
    return f"{value} ({range_words(one, best)})"


def range_words(one: TaskAdvice, best: Best) -> str:
    """The range of the cheapest interval."""
    if best.low is None:
        return "longer than any seen"
    low = span_words(one, best.low)
    return f"{low} up" if best.high is None else f"{low} to {span_words(one, best.high)}"


def reasons(one: TaskAdvice) -> list[str]:
    """Why, in sentences."""
    if one.refusal or one.best is None:
        return [f"No number: {one.refusal}."]
    told = []
    if one.best.interval is None:
        told.append(
            "Failures come no more often the longer ago the job was done: so far it is not seen "
            "to prevent any. Perhaps its interval is short enough, perhaps it serves another end."
        )
    if one.brake:
        told.append(f"{BRAKES[one.brake][0].upper()}{BRAKES[one.brake][1:]}.")
    if one.verdict is Verdict.SHORTEN:
        told.append("The failures of late rounds cost more than doing the job sooner.")
    if one.failures < _FEW:
        told.append(f"It rests on {one.failures} failures only: look at the range.")
    return told
