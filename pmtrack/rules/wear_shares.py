"""What a tool's wear is made of: its programs, the rows counted for it, a meter while fitted."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from pmtrack.rules.facts import ToolCount
from pmtrack.rules.quantity import show
from pmtrack.rules.shop import Tool
from pmtrack.rules.usage import ZERO
from pmtrack.rules.wear_hits import Factors

Made = tuple[str, str | None, Fraction]  # program, material as logged, parts


@dataclass(frozen=True)
class WearShare:
    """One source of wear: `amount` parts, hits or units, `each` hits a part, and the factor."""

    source: str
    amount: Fraction
    each: Fraction | None = None
    factor: Fraction = Fraction(1)
    material: str | None = None

    @property
    def wear(self) -> Fraction:
        """Its part of the tool's wear."""
        return self.amount * (1 if self.each is None else self.each) * self.factor


def program_shares(tool: Tool, factors: Factors, made: Iterable[Made]) -> list[WearShare]:
    """The programs' shares, by the parts that they made since the edge was new."""
    parts: dict[tuple[str, str | None], Fraction] = {}
    for program, logged, amount in made:
        key = program, factors.material_of(program, logged)
        parts[key] = parts.get(key, ZERO) + amount
    return [
        WearShare(
            source=program,
            amount=amount,
            each=factors.hits_per_part(tool, program),
            factor=factors.of(material),
            material=material,
        )
        for (program, material), amount in sorted(parts.items(), key=str)
        if amount
    ]


def counted_shares(tool: Tool, factors: Factors, counts: Iterable[ToolCount]) -> list[WearShare]:
    """The rows counted for the tool itself, by material."""
    hits: dict[str | None, Fraction] = {}
    for count in counts:
        hits[count.material] = hits.get(count.material, ZERO) + count.hits
    own = f"counted for {tool.die_of or 'the tool itself'}"
    return [
        WearShare(own, amount, None, Fraction(1) if tool.counts else factors.of(material), material)
        for material, amount in sorted(hits.items(), key=str)
        if amount
    ]


def share_line(share: WearShare, unit: str) -> str:
    """A share as arithmetic: `KIOSK-DOOR: 310 parts x 4 hits x 2 (stainless) = 2,480`."""
    if share.each is not None:
        told = f"{show(share.amount)} parts x {show(share.each)} hits"
    else:
        told = f"{show(share.amount)} {'hits' if unit == 'wear hits' else unit}"
    if share.material:
        told += f" x {show(share.factor, 3)} ({share.material})"
    plain = share.each is None and not share.material
    return f"{share.source}: {told}" + ("" if plain else f" = {show(share.wear)}")
