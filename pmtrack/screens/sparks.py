"""Small pictures in one line of text: how a count has grown, and a column for each part."""

from collections.abc import Sequence

STEPS = " .:-=+*#%@"  # from nothing to the most, of characters that any terminal has


def spark(values: Sequence[float]) -> str:
    """One character a value, darker for more; the most is the darkest."""
    most = max(values, default=0.0)
    if most <= 0:
        return STEPS[0] * len(values)
    last = len(STEPS) - 1
    return "".join(STEPS[round(value / most * last) or int(value > 0)] for value in values)


def counted(ages: Sequence[float], end: float, parts: int) -> list[int]:
    """How many ages lie in each of so many equal parts up to the end."""
    found = [0] * parts
    for age in ages:
        found[min(int(age / end * parts), parts - 1)] += 1
    return found


def staircase(steps: Sequence[tuple[float, float]], end: float, size: tuple[int, int]) -> list[str]:
    """A growing count as rows of `#`, width and height given, the highest row first.

    `steps` has ages and the count reached at each, in order.
    """
    width, height = size
    reached = [_at(steps, end * (place + 1) / width) for place in range(width)]
    most = max(reached, default=0.0)
    if most <= 0:
        return []
    levels = [round(value / most * height) for value in reached]
    return [
        "".join("#" if level >= row else " " for level in levels).rstrip()
        for row in range(height, 0, -1)
    ]


def _at(steps: Sequence[tuple[float, float]], age: float) -> float:
    """The count at an age."""
    return next((count for reached, count in reversed(steps) if reached <= age), 0.0)
