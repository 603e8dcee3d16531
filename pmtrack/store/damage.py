"""Damage that shows only in what it breaks, told as damage."""

from collections.abc import Iterator
from contextlib import contextmanager

from pmtrack.errors import Refused
from pmtrack.store.database import Store
from pmtrack.store.trouble import UNREAD, clear_words

# what else a command ends in where a row that must be there is not; of all other errors the store
# is not asked, which takes long where it is big
_MISSED = (AssertionError, StopIteration)


@contextmanager
def told_as_damage(store: Store) -> Iterator[None]:
    """What breaks on a damaged store is told as damage; on a sound one it stays a defect of ours.

    Not all damage shows when it is read: a name may fit its column, and name nothing.
    """
    try:
        yield
    except (*UNREAD, *_MISSED) as error:
        from pmtrack.store.upkeep import verify

        with clear_words(store.path):
            found = verify(store)
        if not found:
            raise
        told = f"{store.path}: the store is damaged: {found[0]}; go back to a backup"
        raise Refused(told) from error
