"""The store: one SQLite file. Facts are only added; the shop's description is as last applied."""

from pmtrack.store.database import Store
from pmtrack.store.opening import open_store

__all__ = ["Store", "open_store"]
