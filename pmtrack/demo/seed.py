"""Where the invented year takes its chances from: one seed, and a stream for each subject."""

from random import Random

SEED = 5150


def stream(subject: str) -> Random:
    """The chances of one subject; the same in every run, whatever other subjects draw."""
    return Random(f"{SEED}/{subject}")  # noqa: S311 - invented history keeps no secret


def chance(stream: Random, share: float) -> bool:
    """True in that share of the draws."""
    return stream.random() < share
