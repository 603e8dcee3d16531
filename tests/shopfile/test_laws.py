"""What holds for any file: no bytes end in a traceback, and what is written is read back."""

import re
from typing import Any

import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from pmtrack.rules.shop import Interval, Shop
from pmtrack.shopfile import read_shop

FAULT = re.compile(r"f\.yaml:[1-9]\d*: .+: .+")
KEYS = ["shop", "name", "shifts", "machines", "meters", "hits", "hours", "code", "tooling"]
KEYS += ["tasks", "every", "on", "last_done", "steps", "covers", "closed", "from"]


def check(raw: bytes) -> None:
    """Either a shop or faults, each on one line in the promised form, in line order."""
    shop, faults = read_shop(raw, "f.yaml")

    assert (shop is None) == bool(faults)
    assert [fault for fault in faults if not FAULT.fullmatch(fault)] == []
    lines = [int(fault.split(":")[1]) for fault in faults]
    assert lines == sorted(lines)
    assert max(lines, default=1) <= len(re.findall(rb"\r\n|\r|\n", raw)) + 1


@given(st.binary(max_size=300))
def test_no_bytes_end_in_a_traceback(raw: bytes) -> None:
    check(raw)


@given(st.text(st.sampled_from("abon:,-[]{}&*!|>'\"%@`#?~<0.19e \t\r\n\\x\u2028\xe9"), max_size=80))
def test_no_yaml_signs_end_in_a_traceback(text: str) -> None:
    check(text.encode())


values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=12)
    | st.sampled_from(["1 week", "5 hours", "10%", "TP-1", "mon-fri", "2026-02-30", "FREQ=DAILY"]),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.sampled_from(KEYS) | st.text(max_size=6), inner, max_size=6)
    ),
    max_leaves=25,
)


@given(st.dictionaries(st.sampled_from(KEYS), values, max_size=7))
def test_no_nested_values_end_in_a_traceback(data: dict[str, Any]) -> None:
    check(yaml.safe_dump(data, allow_unicode=True).encode())


@settings(max_examples=150)
@given(data=st.data())
def test_no_spoiled_file_ends_in_a_traceback(data: st.DataObject) -> None:
    raw = bytearray(MIXED)
    for _ in range(data.draw(st.integers(1, 4))):
        begin = data.draw(st.integers(0, len(raw)))
        end = begin + data.draw(st.integers(0, 12))
        raw[begin:end] = data.draw(st.binary(max_size=4) | st.sampled_from(PIECES))
    check(bytes(raw))


PIECES = [b": ", b"- ", b"[", b"}", b"\n", b"\n  ", b"true", b"0", b"'", b'"', b"*a", b"&a ", b","]

codes = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,39}", fullmatch=True)
names = st.text(
    st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=40
)
decimals = st.decimals(1, 10**6, places=3, allow_nan=False).map(str)


def written(name: str, every: list[tuple[str, str]], machines: list[str]) -> dict[str, Any]:
    """A file with one task that is due every amount and unit, on each machine."""
    return {
        "shop": {
            "name": name,
            "timezone": "Europe/Lisbon",
            "shifts": [{"name": name, "days": ["sat"], "start": "22:00", "end": "06:00"}],
        },
        "machines": [
            {"code": code, "name": name, "meters": {"hits": {"wraps_at": "1000000"}, "hours": None}}
            for code in machines
        ],
        "tasks": [
            {
                "code": "T",
                "machines": machines,
                "title": name,
                "every": [f"{amount} {unit}" for amount, unit in every],
                "steps": [name, {"measure": name, "min": "0.5"}],
            }
        ],
    }


MIXED = yaml.safe_dump(written("Works", [("2", "hits")], ["TP-1", "PB-1"])).encode()

intervals = st.tuples(st.integers(1, 100).map(str), st.sampled_from(["days", "years"])) | st.tuples(
    decimals, st.sampled_from(["hits", "hours"])
)


@given(
    names,
    st.lists(intervals, min_size=1, max_size=3),
    st.lists(codes, min_size=1, max_size=4, unique=True),
)
def test_what_is_written_is_read_back(
    name: str, every: list[tuple[str, str]], machines: list[str]
) -> None:
    text = yaml.safe_dump(written(name, every, machines), allow_unicode=True)
    shop, faults = read_shop(text.encode(), "f.yaml")

    assert faults == []
    assert isinstance(shop, Shop)
    assert (shop.name, shop.shifts[0].name) == (name, name)
    assert [task.name for task in shop.tasks] == [f"{code}/T" for code in machines]
    for task in shop.tasks:
        assert [(interval.text, interval.is_calendar) for interval in task.every] == [
            (f"{amount} {unit}", unit in ("days", "years")) for amount, unit in every
        ]
        assert [exact(interval) for interval in task.every] == [amount for amount, _ in every]


def exact(interval: Interval) -> str:
    """The amount in as many decimals as it was written with."""
    whole = interval.is_calendar
    return str(int(interval.amount)) if whole else f"{int(interval.amount * 1000) / 1000:.3f}"
