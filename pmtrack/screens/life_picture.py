"""A family's life curve as a picture: what is drawn, with its words."""

from statistics import median

from pmtrack.actions.tool_advice import FamilyLife, Study, scaled
from pmtrack.errors import Refused
from pmtrack.pictures.life_curve import LifeChart, Point, life_curve_svg
from pmtrack.screens.life_words import (
    few_words,
    figure,
    notes,
    of_lives,
    percent,
    reasons,
    summary,
    unit_of,
    with_limits,
)
from pmtrack.statistics.kaplan_meier import Step
from pmtrack.statistics.lives import Life
from pmtrack.statistics.weibull import Weibull

_B10_ALIVE = 0.9


def picture(told: FamilyLife, where: str) -> bytes:
    """The SVG file; `where` is the shop and the day. Raises Refused where no life is known yet."""
    family, study = told.family, told.whole
    if not study.lives:
        raise Refused(
            f"no life of '{family.name}' is known yet: each begins with a sharpening recorded"
        )
    factor = float(family.interval or 100)
    chart = LifeChart(
        title=f"How long tools last: {family.name}",
        under=f"{where}: {of_lives(study)}; {summary(study)}",
        axis=_axis(told),
        description=_description(told, where),
        lives=[Life(life.amount * factor, life.failed) for life in study.shares],
        steps=[_step(step, factor) for step in study.steps],
        law=_law(study, factor),
        points=_points(study, factor),
        lines=_lines(told, factor),
        percent=family.interval is None,
    )
    return life_curve_svg(chart)


def _law(study: Study, factor: float) -> Weibull | None:
    return Weibull(study.curve.law.shape, study.curve.law.scale * factor) if study.curve else None


def _step(step: Step, factor: float) -> Step:
    return Step(step.amount * factor, step.at_risk, step.failed, step.alive)


def _axis(told: FamilyLife) -> str:
    renewed = "sharpening" if told.family.tools[0].is_ground else "replacement"
    since = f"{unit_of(told.family)} since the last {renewed}"
    return since if told.family.interval else f"{since}, as a share of the tool's interval"


def _points(study: Study, factor: float) -> list[Point]:
    """B10, and what is aimed at by costs."""
    found = []
    if study.b10:
        found.append(Point("B10 life, 90 % limits", scaled(study.b10, factor), _B10_ALIVE))
    aims = {a.aim.age.value: a.aim for a in study.advice if a.aim and a.aim.by_costs}
    return found + [
        Point("least cost, 90 % limits", scaled(aim.age, factor), 1 - aim.failed)
        for aim in aims.values()
    ]


def _lines(told: FamilyLife, factor: float) -> list[tuple[str, float]]:
    """The present interval, and the advised one where it is another; figures if all have one."""
    study, single = told.whole, told.family.interval is not None
    lines = [(f"now {figure(factor)}" if single else "interval now", factor)]
    shares = [a.advice.age / float(a.tool.sharpen_every) for a in study.advice if a.advice]
    if shares and summary(study) != "keep":
        advised = median(shares) * factor
        lines.append((f"advised {figure(advised)}" if single else "advised", advised))
    return lines


def _description(told: FamilyLife, where: str) -> str:
    """The picture in words."""
    study = told.whole
    seen = [f"{percent(s.alive.value)} last {percent(s.amount)}" for s in study.steps]
    curve = f"B10 {with_limits(told, study.b10)}." if study.b10 else f"{few_words(study)}."
    return " ".join(
        [
            f"{where}. {told.family.name}: {of_lives(study)}.",
            f"Share of lives that last each share of the interval: {'; '.join(seen) or 'all'}.",
            curve,
            f"Advice: {summary(study)}.",
            *(reasons(study) if study.curve else ()),
            *notes(bool(told.family.tools[0].counts)),
        ]
    )
