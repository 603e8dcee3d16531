"""Setting up: the shop file checked and applied."""

from collections.abc import Callable
from datetime import datetime
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

from pmtrack.errors import FaultyFile, Refused
from pmtrack.rules.shop import Shop
from pmtrack.rules.shoptime import local_date
from pmtrack.store.database import Store
from pmtrack.store.description import Change, save_shop
from pmtrack.store.stored_shop import has_shop, load_shop
from pmtrack.store.tallies import MeterTallies


def read_shop_file(path: Path, clock: Callable[[ZoneInfo], datetime] | None = None) -> Shop:
    """The shop that a file describes. Raises FaultyFile with every fault, Refused if unreadable.

    With a clock, `last_done` may not lie after today.
    """
    from pmtrack.shopfile import read_shop

    try:
        data = path.read_bytes()
    except OSError as error:
        reason = (error.strerror or "it cannot be read").lower()
        raise Refused(f"{path}: {reason}; name a shop file that exists") from None
    shop, faults = read_shop(data, str(path), clock)
    if shop is None:
        raise FaultyFile(faults)
    return shop


def apply_shop(store: Store, shop: Shop, now: datetime, by: str) -> list[Change]:
    """Make the store's description that of the shop file; facts and history stay."""
    first = not has_shop(store)
    wraps: dict[tuple[str, str], Fraction | None] = {} if first else _wraps(load_shop(store).shop)
    changes = save_shop(store, shop, now, local_date(now, shop.zone), by)
    for (machine, meter), wraps_at in _wraps(shop).items():
        if (machine, meter) in wraps and wraps[machine, meter] != wraps_at:
            MeterTallies(store, machine, meter).rebuild(wraps_at)
    return changes


def _wraps(shop: Shop) -> dict[tuple[str, str], Fraction | None]:
    return {(m.code, meter.name): meter.wraps_at for m in shop.machines for meter in m.meters}
