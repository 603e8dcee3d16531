"""What lives of tools tell, in words: figures with their limits, the advice and its reasons."""

from pmtrack.actions.tool_advice import FamilyLife, Study, ToolAdvice, scaled
from pmtrack.rules.quantity import show
from pmtrack.rules.tool_families import Family
from pmtrack.statistics.estimate import Estimate
from pmtrack.statistics.interval_advice import Brake, Verdict
from pmtrack.statistics.lives import FEWEST

NOTHING = "-"
NO_WEAR_OUT = "no wear-out seen"
NOT_WORTH = "not worth a planned sharpening"


def figure(amount: float) -> str:
    """An amount to three places that count: 45,600 or 5.25."""
    whole = len(str(int(amount))) if amount >= 1 else 0
    return show(round(amount, 3 - whole), max(3 - whole, 0))


def percent(share: float) -> str:
    """A share as 68 %."""
    return f"{share:.0%}".replace("%", " %")


def unit_of(family: Family) -> str:
    """The unit in words: beam hours."""
    return family.unit.replace("_", " ")


def amount_of(told: FamilyLife, share: float) -> str:
    """A share of the interval: in the family's unit if its tools have one interval, else in %."""
    interval = told.family.interval
    return percent(share) if interval is None else figure(share * float(interval))


def with_limits(told: FamilyLife, value: Estimate | None) -> str:
    """A value with its limits, like 41,200 (33,000-52,000)."""
    if value is None:
        return NOTHING
    return f"{amount_of(told, value.value)} ({limits(told, value)})"


def limits(told: FamilyLife, value: Estimate) -> str:
    """Limits like 33,000-52,000; without an upper one 33,000 up."""
    low = "0" if value.low is None else amount_of(told, value.low)
    if value.high is None:
        return f"{low} up"
    return f"{low.removesuffix(' %')}-{amount_of(told, value.high)}"


def range_of(advised: ToolAdvice) -> str:
    """The limits of the interval that is aimed at, in the tool's unit."""
    if advised.aim is None:
        return NOTHING
    found = scaled(advised.aim.age, float(advised.tool.sharpen_every))
    low = "0" if found.low is None else figure(found.low)
    return f"{low} up" if found.high is None else f"{low}-{figure(found.high)}"


def advice_words(study: Study, advised: ToolAdvice) -> str:
    """What to do with a tool's interval."""
    if advised.advice is None:
        return NOT_WORTH if study.wears_out else NO_WEAR_OUT
    verdict, age = advised.advice.verdict, figure(advised.advice.age)
    return "keep" if verdict is Verdict.KEEP else f"{verdict} to {age}"


def summary(study: Study) -> str:
    """The advice for a family in a few words."""
    if study.too_few:
        return few_words(study)
    words = {advice_words(study, advised) for advised in study.advice}
    if len(words) == 1:
        return words.pop()
    verdicts = {advised.advice.verdict if advised.advice else None for advised in study.advice}
    if len(verdicts) > 1:
        return "differs by tool"
    shares = [a.advice.age / float(a.tool.sharpen_every) for a in study.advice if a.advice]
    low, high = percent(min(shares)), percent(max(shares))
    span = high if low == high else f"{low.removesuffix(' %')}-{high}"
    return f"{verdicts.pop()} to {span}"


def few_words(study: Study) -> str:
    """Why there is no number: how many failures there are, of how many it takes."""
    few = study.too_few
    if few is None:
        return ""
    if few.failures < few.needed:
        return f"too few: {few.failures} of {few.needed}"
    return "no life curve fits"


def reasons(study: Study) -> list[str]:
    """What the advice rests on, in sentences."""
    few = study.too_few
    if few and few.failures >= few.needed:
        return [f"No advice: {of_lives(study)}, but {few.why}."]
    if few:
        return [
            f"No advice: {of_lives(study)}. At least {few.needed}, at different "
            "amounts, are needed; a number from fewer would be a guess."
        ]
    told = [f"The advice rests on {of_lives(study)}."]
    told += _of_shape(study)
    told += sorted({_of_aim(advised) for advised in study.advice if advised.aim})
    if study.wears_out and any(advised.aim is None for advised in study.advice):
        told.append(
            "Where a failure costs hardly more than a planned sharpening, waiting for the burr "
            "is cheaper: no interval is advised."
        )
    brakes = {advised.advice.brake for advised in study.advice if advised.advice}
    return told + [_BRAKES[brake] for brake in Brake if brake in brakes]


_BRAKES = {
    Brake.UNSURE: (
        "A longer interval may do, but its lower limit is not above the present one: it is not "
        "advised until more lives are known."
    ),
    Brake.ONE_STEP: (
        "No tool has run that far yet, so the interval is to grow by a step; look again when "
        "some lives have ended there."
    ),
}


def of_lives(study: Study) -> str:
    """On what it rests: 4 failures in 23 lives."""
    several = "failure" if study.failures == 1 else "failures"
    return f"{study.failures} {several} in {len(study.lives)} lives"


def _of_shape(study: Study) -> list[str]:
    shape = study.shape
    if shape is None:
        return []
    if not study.wears_out:
        return [
            f"Shape {shape.value:.2g} is not above 1: wear-out was not seen, the old fail no more "
            "often than the new, and sharpening earlier gains nothing. Look for another cause."
        ]
    if shape.low is None or shape.low <= 1:
        return ["Wear-out is not certain: the limits of the shape reach down to 1."]
    return []


def _of_aim(advised: ToolAdvice) -> str:
    aim, tool = advised.aim, advised.tool
    if aim is None:
        return ""
    if not aim.by_costs or not tool.failure_cost or not tool.regrind_cost:
        return (
            "Aimed at is B10: one life in ten may end in a failure. With regrind_cost and "
            "failure_cost in the shop file it is the interval of the least cost."
        )
    times = show(tool.failure_cost / tool.regrind_cost)
    return (
        f"Aimed at is the least cost: a failure costs {times} times a planned sharpening, so "
        f"{percent(aim.failed)} of lives may end in one."
    )


LIVES = (
    "A life runs from one sharpening or replacement to the next. It failed if a burr or a chipped "
    f"edge ended it; a planned end cuts it short. At least {FEWEST} failures make an advice; "
    "limits hold 9 times in 10."
)
FACTORS = (
    "Wear hits rest on the factors of materials in the shop file; those of the sample are common "
    "practice."
)
MAKER = "The maker's manual goes before this advice."


def notes(metered: bool) -> list[str]:
    """What to know of every advice; the factors bear on hits alone."""
    return [LIVES, MAKER if metered else f"{FACTORS} {MAKER}"]
