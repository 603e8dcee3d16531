"""Options of the form name=value."""

from fractions import Fraction

from pmtrack.actions.recorder import Dial
from pmtrack.errors import UnreadableInput
from pmtrack.rules.quantity import parse_quantity, shorten


def quantities_from(option: str, pairs: list[str] | None) -> dict[str, Fraction]:
    """`hits=41200` for each name. Raises UnreadableInput for another form or a name given twice."""
    found: dict[str, Fraction] = {}
    for pair in pairs or ():
        name, sign, value = pair.partition("=")
        if not (name and sign):
            raise UnreadableInput(f"{option} {shorten(pair)}: write name=value, like hits=41200")
        if name in found:
            raise UnreadableInput(f"{option}: {shorten(name)} stands twice; keep one")
        found[name] = parse_quantity(value)
    return found


def dials_from(
    pairs: list[str] | None,
    wrapped: list[str] | None,
    exchanged: list[str] | None,
    confirmed: bool = False,
) -> dict[str, Dial]:
    """Dial readings by meter, marked as started over or newly fitted."""
    readings = quantities_from("--dial", pairs)
    for option, names in (("--wrapped", wrapped), ("--exchanged", exchanged)):
        for name in names or ():
            if name not in readings:
                raise UnreadableInput(f"{option} {shorten(name)}: give its --dial {name}=N too")
    both = set(wrapped or ()) & set(exchanged or ())
    if both:
        raise UnreadableInput(f"{min(both)} cannot be both --wrapped and --exchanged; keep one")
    return {
        name: Dial(value, name in (wrapped or ()), name in (exchanged or ()), confirmed)
        for name, value in readings.items()
    }
