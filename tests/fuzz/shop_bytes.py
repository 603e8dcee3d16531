"""The shop file as bytes: whatever they are, a shop or faults that name line, place and mend."""

import re
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from pmtrack.shopfile import read_shop
from tests.command import SMALL_SHOP
from tests.fuzz.judging import in_time

NOW = datetime(2026, 11, 25, 19, 45, tzinfo=UTC)
FAULT = re.compile(r"f\.yaml:[1-9]\d*: .+: .+")
PIECES = [
    "a: &a [x]\nb: [*a, *a]\n", "<<: *a\n", "? [k]\n: v\n", "!!python/object:os.system x\n",
    "- " * 30, "[" * 30, "{a: " * 30, "a: 1\na: 2\n", "\ta: b\n", "a: |\n  x\n", "a: >-\n  x\n",
    "%YAML 9.9\n---\n", "--- a\n--- b\n", "...\n", "a: 0x1F\n", "a: .nan\n", "a: -.inf\n",
    "a: 1e999\n", "a: 0000-00-00\n", "\ufeffa: b\n", "\u2028", "\ud7ff\u0000", "a: 'x\n",
    'a: "\\q"',
    "on: FREQ=SECONDLY\n", "on: FREQ=DAILY;INTERVAL=0\n", "timezone: ../../etc/passwd\n",
]  # fmt: skip


class ShopBytes:
    """Reads the bytes as a shop file."""

    name = "shop-bytes"

    def __init__(self, folder: Path) -> None:
        pass

    def seeds(self) -> list[bytes]:
        good = SMALL_SHOP.read_bytes()
        texts = [piece.encode("utf-8", "surrogatepass") for piece in PIECES]
        return [good, good.decode().encode("utf-16"), *texts]

    def attempt(self, data: bytes) -> None:
        with in_time(data):
            shop, faults = read_shop(data, "f.yaml", _clock)
        assert (shop is None) == bool(faults)
        for fault in faults:
            assert FAULT.fullmatch(fault), fault
            assert fault.isprintable(), fault
            fault.encode()


def _clock(zone: ZoneInfo) -> datetime:
    return NOW
