"""The lives of tools and the intervals they advise: for the eye, and as JSON."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from rich.console import Console
from rich.table import Table

from pmtrack.actions.tool_advice import FamilyLife, Study, ToolAdvice, scaled
from pmtrack.rules.quantity import show
from pmtrack.rules.tool_lives import ToolLife
from pmtrack.screens.life_bars import bar_table
from pmtrack.screens.life_words import (
    advice_words,
    notes,
    range_of,
    reasons,
    summary,
    unit_of,
    with_limits,
)
from pmtrack.screens.terminal import show_lines, table
from pmtrack.statistics.estimate import Estimate

FIGURES = (
    "Failed: so many of the lives known. B10: by then one in ten has failed. %: of each tool's "
    "interval. Bars and tools of a family: 'pmtrack life FAMILY'."
)
ENDS = ("burr", "chipped", "planned", "running")


def show_families(told: Sequence[FamilyLife], console: Console) -> None:
    """Print one line a family, and what the figures mean."""
    right = ("Tools", "Failed")
    made = table("Family", *right, "B10, limits", "Advice", right=right)
    for one in sorted(told, key=lambda one: (one.whole.curve is None, -one.whole.failures)):
        made.add_row(
            one.family.name,
            str(len(one.family.tools)),
            f"{one.whole.failures} of {len(one.whole.lives)}",
            with_limits(one, one.whole.b10),
            summary(one.whole),
        )
    console.print(made)
    show_lines(console, "To know", [FIGURES, *notes(metered=False)])


def show_family(told: FamilyLife, console: Console) -> None:
    """Print a family's lives as bars, its life curve, and the advice for each tool."""
    family, study = told.family, told.whole
    console.print(_head(told))
    if study.lives:
        console.print()
        console.print(bar_table(told))
    if study.curve:
        show_lines(console, "Life curve (Weibull), 90 % limits", _curve_lines(told))
        console.print()
        console.print(_tool_table(study, family.lives))
    if told.by_material:
        console.print()
        console.print(_material_table(told))
    show_lines(console, "To know", [*reasons(study), *notes(bool(family.tools[0].counts))])


def _head(told: FamilyLife) -> str:
    family = told.family
    ends = Counter(life.end for life in family.lives)
    ended = ", ".join(f"{ends[end]} {end}" for end in ENDS if ends[end]) or "none known yet"
    intervals = [tool.sharpen_every for tool in family.tools]
    low, high = show(min(intervals)), show(max(intervals))
    every = low if low == high else f"{low} to {high}"
    several = "tools" if len(family.tools) > 1 else "tool"
    return (
        f"{family.name}: {len(family.tools)} {several}, interval {every} {unit_of(family)}\n"
        f"{len(family.lives)} lives: {ended}"
    )


def _curve_lines(told: FamilyLife) -> list[str]:
    study = told.whole
    if not (study.shape and study.scale and study.b10):
        return []
    low, high = (f"{x:.2g}" if x else "open" for x in (study.shape.low, study.shape.high))
    unit = f" {unit_of(told.family)}" if told.family.interval else " of the interval"
    return [
        f"B10    {with_limits(told, study.b10)}{unit}: one in ten has failed",
        f"Scale  {with_limits(told, study.scale)}{unit}: 63 % have failed",
        f"Shape  {study.shape.value:.2g} ({low} to {high}): above 1 a tool wears out",
    ]


def _tool_table(study: Study, lives: Sequence[ToolLife]) -> Table:
    right = ("Interval", "Lives", "Failed")
    made = table("Tool", *right, "Advice", "Limits", right=right, fixed=("Tool",))
    for advised in study.advice:
        own = [life for life in lives if life.tool.code == advised.tool.code]
        made.add_row(
            advised.tool.code,
            show(advised.tool.sharpen_every),
            str(len(own)),
            str(sum(life.failed for life in own)),
            advice_words(study, advised),
            range_of(advised),
        )
    return made


def _material_table(told: FamilyLife) -> Table:
    right = ("Lives", "Failed")
    made = table("Mostly in", *right, "B10, limits", "Advice", right=right)
    for material, study in told.by_material.items():
        found = with_limits(told, study.b10)
        made.add_row(material, str(len(study.lives)), str(study.failures), found, summary(study))
    return made


def as_json(told: FamilyLife) -> dict[str, Any]:
    """A family as scripts read it: amounts as shares of the interval, those of a tool in its unit.

    `interval` is null where the tools have several.
    """
    family = told.family
    return {
        "family": family.name,
        "unit": family.unit,
        "interval": family.interval,
        **_study_json(told.whole),
        "materials": {code: _study_json(study) for code, study in told.by_material.items()},
        "life_list": [_life_json(life) for life in family.lives],
    }


def _study_json(study: Study) -> dict[str, Any]:
    few = study.too_few
    return {
        "lives": len(study.lives),
        "failures": study.failures,
        "failures_needed": few.needed if few else None,
        "no_curve_because": few.why if few else None,
        "shape": _estimate_json(study.shape),
        "scale": _estimate_json(study.scale),
        "b10": _estimate_json(study.b10),
        "surviving": [
            {"share": step.amount, "at_risk": step.at_risk, "failed": step.failed}
            | {"alive": _estimate_json(step.alive)}
            for step in study.steps
        ],
        "tools": [_tool_json(advised) for advised in study.advice],
    }


def _tool_json(advised: ToolAdvice) -> dict[str, Any]:
    tool, aim, advice = advised.tool, advised.aim, advised.advice
    every = float(tool.sharpen_every)
    return {
        "tool": tool.code,
        "interval": tool.sharpen_every,
        "verdict": advice.verdict if advice else None,
        "sharpen_every": advice.age if advice else None,
        "held_back": advice.brake if advice else None,
        "aimed_at": _estimate_json(scaled(aim.age, every)) if aim else None,
        "failed_by_then": aim.failed if aim else None,
        "by_costs": aim.by_costs if aim else None,
    }


def _estimate_json(value: Estimate | None) -> dict[str, float | None] | None:
    if value is None:
        return None
    return {"value": value.value, "low": value.low, "high": value.high}


def _life_json(life: ToolLife) -> dict[str, Any]:
    return {
        "tool": life.tool.code,
        "wear": life.wear,
        "share": float(life.share),
        "end": life.end,
        "failed": life.failed,
        "material": life.material,
        "from_entry": life.began.entry,
        "to_entry": life.ended.entry if life.ended else None,
    }
