"""The demo store: the sample shop with a year of invented history."""

from datetime import datetime
from importlib.resources import files
from pathlib import Path

from pmtrack.actions.setup import read_shop_file
from pmtrack.errors import Refused
from pmtrack.rules.shop import Shop
from pmtrack.store import Store, open_store
from pmtrack.store.description import is_demo
from pmtrack.store.stored_shop import has_shop


def sample_path() -> Path:
    """Where the sample shop file lies: in the installed package, or beside it in a checkout."""
    package = Path(str(files("pmtrack")))
    installed = package / "sample_shop.yaml"
    return installed if installed.exists() else package.parent / "sample_shop.yaml"


def sample_shop() -> Shop:
    """The sample shop."""
    return read_shop_file(sample_path())


def make_demo(path: Path, shop: Shop, now: datetime) -> None:
    """Build the demo store at `path`, all of it or nothing; one that is there is left alone.

    Raises Refused when another file is there.
    """
    from pmtrack.demo import build_demo

    store = open_store(path, create=True, demo=True, now=now)
    try:
        if _is_built(store):
            return
        with store.writing():
            if not has_shop(store):  # another may have built it since
                build_demo(store, shop, now)
    finally:
        store.close()


def _is_built(store: Store) -> bool:
    """Whether the demo is there already; one whose making was killed has no shop yet."""
    with store.reading():
        if not is_demo(store):
            raise Refused(
                f"{store.path}: a store is here already, and it is no demo; "
                "name another file: pmtrack --store demo.db demo"
            )
        return has_shop(store)
