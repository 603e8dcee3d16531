"""What a store holds, in a few figures by which a person tells one store from another."""

from dataclasses import dataclass

from pmtrack.rules.text import printable
from pmtrack.store.database import Store


@dataclass(frozen=True)
class Contents:
    """Whose store it is, how many entries it has, and the number and day of the last one."""

    shop: str
    entries: int
    last: int | None
    day: str | None

    @property
    def words(self) -> str:
        """In a few words."""
        if self.last is None:
            return f"{self.shop}, no entries"
        entries = "1 entry" if self.entries == 1 else f"{self.entries:,} entries"
        return printable(f"{self.shop}, {entries}, the last of {self.day}")


def contents_of(store: Store) -> Contents:
    """The figures of a store of any version. Raises sqlite3.Error for a damaged one."""
    shop = store.row(
        "SELECT json_extract(definition, '$.name') FROM applied ORDER BY id DESC LIMIT 1"
    )
    (entries,) = store.rows("SELECT count(*) FROM entry")[0]
    number, day = store.row("SELECT id, day FROM entry ORDER BY id DESC LIMIT 1") or (None, None)
    return Contents(str(shop[0]) if shop else "no shop yet", entries, number, day)
