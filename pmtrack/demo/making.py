"""The demo store: the sample shop with a year of invented history."""

from datetime import datetime
from importlib.resources import files
from pathlib import Path

from pmtrack.actions.setup import read_shop_file
from pmtrack.errors import Refused
from pmtrack.rules.shop import Shop
from pmtrack.store import open_store
from pmtrack.store.description import is_demo


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

    if path.exists() and path.stat().st_size:
        _check_is_demo(path)
        return
    store = open_store(path, create=True, demo=True, now=now)
    try:
        with store.writing():
            build_demo(store, shop, now)
    finally:
        store.close()


def _check_is_demo(path: Path) -> None:
    store = open_store(path)
    try:
        with store.reading():
            demo = is_demo(store)
    finally:
        store.close()
    if not demo:
        raise Refused(
            f"{path}: a store is here already, and it is no demo; "
            "name another file: pmtrack --store demo.db demo"
        )
