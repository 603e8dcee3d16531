"""What a store holds, in a few figures by which a person tells one store from another."""

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from pmtrack.errors import PmtrackError
from pmtrack.rules.text import printable
from pmtrack.store.codec import to_instant
from pmtrack.store.database import Store


@dataclass(frozen=True)
class Contents:
    """Whose store it is, how many entries it has, and when the last one was entered."""

    shop: str
    entries: int
    entered: str | None

    @property
    def words(self) -> str:
        """In a few words."""
        if self.entered is None:
            return printable(f"{self.shop}, no entries")
        entries = "1 entry" if self.entries == 1 else f"{self.entries:,} entries"
        return printable(f"{self.shop}, {entries}, the last at {self.entered}")


def contents_of(store: Store) -> Contents:
    """The figures of a store of any version. Raises sqlite3.Error for a damaged one."""
    shop, zone = store.row(
        "SELECT json_extract(definition, '$.name'), json_extract(definition, '$.timezone')"
        " FROM applied ORDER BY id DESC LIMIT 1"
    ) or ("no shop yet", "UTC")
    (entries,) = store.rows("SELECT count(*) FROM entry")[0]
    last = store.row("SELECT recorded_at FROM entry ORDER BY id DESC LIMIT 1")
    return Contents(str(shop), entries, _shop_time(last[0], zone) if last else None)


def _shop_time(text: str, zone: str) -> str:
    """An instant in shop time, as it is kept where it cannot be read."""
    try:
        return f"{to_instant(text).astimezone(ZoneInfo(zone)):%Y-%m-%d %H:%M}"
    except (PmtrackError, LookupError, TypeError, ValueError, OSError):
        return str(text)
