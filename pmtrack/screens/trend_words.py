"""What the trend of a machine's failures tells, in plain words."""

from collections.abc import Iterable

from pmtrack.actions.trend import MachineTrend
from pmtrack.rules.quantity import show
from pmtrack.statistics.estimate import Estimate, TooFew
from pmtrack.statistics.trend import FEWEST, Trend, Verdict

_WORDS = {
    Verdict.WORSE: "getting worse",
    Verdict.BETTER: "getting better",
    Verdict.NO_TREND: "no trend seen",
}
LEGEND = (
    "By tenths: the failures in each tenth of the operating hours, darker for more.",
    "A trend is called one if chance alone would look like it 1 time in 20, or less.",
    "MTBF now: operating hours for each failure at the end, by a power law (maximum likelihood), "
    "with 90 % limits. Few failures make wide limits.",
    "'pmtrack trend MACHINE' shows one machine in full.",
)


def verdict_words(one: MachineTrend) -> str:
    """`getting worse`, `no trend seen`, or how many failures there are too few."""
    if one.verdict is Verdict.TOO_FEW:
        return f"too few failures: {one.failures}, at least {FEWEST} needed"
    return _WORDS[one.verdict]


def few_lines(machines: Iterable[MachineTrend]) -> list[str]:
    """The machines with too few failures, with how many each has."""
    few = [one for one in machines if one.verdict is Verdict.TOO_FEW]
    names = ", ".join(f"{one.watch.machine.code} {one.failures}" for one in few)
    return [f"too few failures, at least {FEWEST} needed: {names}"] if few else []


def mtbf_words(one: MachineTrend) -> str:
    """The MTBF at the end with its limits, like 67 (53-85)."""
    return "-" if isinstance(one.growth, TooFew) else with_limits(one.growth.mtbf)


def with_limits(value: Estimate, decimals: int = 0) -> str:
    """A value with its limits, as far as there are any."""
    low = "0" if value.low is None else show(value.low, decimals)
    high = "" if value.high is None else show(value.high, decimals)
    return f"{show(value.value, decimals)} ({low}-{high})"


def chance_words(test: Trend) -> tuple[str, str]:
    """A test's number, and how often chance alone would look like it."""
    if test.statistic is None or test.chance is None:
        return "-", f"too few failures: {test.failures}, at least {FEWEST} needed"
    return show(test.statistic, 2), f"chance {chance(test.chance)}"


def chance(share: float) -> str:
    """A chance in per cent; what is hardly there as under 0.1 %."""
    return "under 0.1 %" if share < 0.001 else f"{show(100 * share, 1)} %"


def slope_words(one: MachineTrend) -> list[tuple[str, str, str]]:
    """The rows of the power law; none of too few failures."""
    if isinstance(one.growth, TooFew):
        return []
    rows = (
        ("Slope (above 1: more often)", one.growth.slope, 2),
        ("MTBF now, hours", one.growth.mtbf, 0),
    )
    return [
        (name, show(value.value, decimals), with_limits(value, decimals).split(" ", 1)[1])
        for name, value, decimals in rows
    ]


def explained(one: MachineTrend) -> list[str]:
    """The verdict in sentences, with what it does not say."""
    if one.verdict is Verdict.TOO_FEW:
        return [
            f"{one.failures} failures tell no trend; at least {FEWEST} are needed, and few of "
            "them make wide limits."
        ]
    told = [_SENTENCES[one.verdict]]
    if not isinstance(one.growth, TooFew):
        expected = one.growth.law.expected(one.growth.law.end, 1.25 * one.growth.law.end)
        told.append(
            f"If it went on like this, the next {show(0.25 * one.growth.law.end, 0)} operating "
            f"hours would bring about {show(expected, 0)} failures."
        )
    if one.failures < 2 * FEWEST:
        told.append(f"It rests on {one.failures} failures: look at the limits, not at the value.")
    return told


_SENTENCES = {
    Verdict.WORSE: (
        "Failures come more and more often. Look at the causes in 'pmtrack report', and at what "
        "changed: work, tools, people, age."
    ),
    Verdict.BETTER: "Failures come less and less often.",
    Verdict.NO_TREND: (
        "Failures come no more and no less often than chance has it. That is no proof of "
        "steadiness: a slow trend needs more failures to show."
    ),
}
