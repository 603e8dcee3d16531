"""All targets by name, each made in a folder of its own."""

from collections.abc import Callable
from pathlib import Path

from tests.fuzz.arguments import Arguments
from tests.fuzz.csv_rows import CsvRows
from tests.fuzz.judging import Target
from tests.fuzz.names import NAMES
from tests.fuzz.put_back import PutBack
from tests.fuzz.shop_bytes import ShopBytes
from tests.fuzz.shop_values import ShopValues
from tests.fuzz.store_bytes import StoreBytes
from tests.fuzz.stored_values import StoredValues
from tests.fuzz.text_out import TextOut

_ALL: tuple[Callable[[Path], Target], ...] = (
    ShopBytes, ShopValues, CsvRows, Arguments, StoreBytes, StoredValues, PutBack, TextOut,
)  # fmt: skip
TARGETS = dict(zip(NAMES, _ALL, strict=True))
