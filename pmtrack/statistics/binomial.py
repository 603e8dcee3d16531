"""How often something happens out of so many times: exact limits of the share."""

from pmtrack.statistics.estimate import CONFIDENCE, Estimate


def share(events: int, times: int, confidence: float = CONFIDENCE) -> Estimate:
    """The share of `times` (above 0), with exact limits (Clopper and Pearson, Biometrika 26, 1934).

    They hold the true share at least as often as stated, if the times do not bear on each other.
    """
    if not 0 <= events <= times or times == 0:
        raise ValueError(f"{events} of {times} is no share")
    # Here, as it takes 0.2 s to import.
    from scipy.special import betaincinv

    tail = (1 - confidence) / 2
    low = float(betaincinv(events, times - events + 1, tail)) if events else 0.0
    high = float(betaincinv(events + 1, times - events, 1 - tail)) if events < times else 1.0
    return Estimate(events / times, low, high)
