"""Bytes that are no text, texts that are too large or too deep, files that say nothing."""

import codecs
import time

import pytest

from pmtrack.shopfile import read_shop

BRACKET = (
    "a value is missing, or a bracket is not closed",
    "write the value, or close the bracket",
)
BOMB = "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n"

# the file, line, what is wrong, the mend
UNREADABLE = [
    (b"", 1, "empty", "describe the shop, beginning with shop:"),
    (b"# nothing yet\n", 1, "empty", "describe the shop, beginning with shop:"),
    (b"--- {}\n", 1, "empty", "describe the shop, beginning with shop:"),
    (b"- a\n", 1, "the top level is no mapping", "begin with shop:, machines: and tasks:"),
    (b"just text\n", 1, "the top level is no mapping", "begin with shop:, machines: and tasks:"),
    ("shop:".encode("utf-16"), 1, "saved as UTF-16 or UTF-32", "save it as UTF-8"),
    ("shop:".encode("utf-32"), 1, "saved as UTF-16 or UTF-32", "save it as UTF-8"),
    (codecs.BOM_UTF16_BE, 1, "saved as UTF-16 or UTF-32", "save it as UTF-8"),
    ("a: b".encode("utf-16-le"), 1, "a NUL character", "delete it, save it as UTF-8 text"),
    (b"a: b\r\nc: caf\xe9\r\n", 2, "byte 0xE9 is not UTF-8", "save the file as UTF-8"),
    (codecs.BOM_UTF8 + b"a:\n\n\xff", 3, "byte 0xFF is not UTF-8", "save the file as UTF-8"),
    (b"a: b\rc: \xc3", 2, "byte 0xC3 is not UTF-8", "save the file as UTF-8"),
    (b"a: b\n\n\x00", 3, "a NUL character", "delete it, save it as UTF-8 text"),
    (b"a: \x1b[31m", 1, "a control character U+001B", "delete it, save it as UTF-8 text"),
    (
        "a: b\nc\u2028d".encode(),
        2,
        "a control character U+2028",
        "delete it, save it as UTF-8 text",
    ),
    (
        b"a: b\n  \tc: d\n\te: f\n\t\n",
        2,
        "a tab indents this line and 1 more",
        "indent with spaces",
    ),
    (b"#" * 5_000_001, 1, "over 5 MB", "split off what is no shop description"),
    (
        b"a:\n" + b"- b\n" * 200_000,
        199_999,  # the mapping, its key, the list and 199,997 entries make 200,000 values
        "over 200000 values",
        "split off what is no description",
    ),
    (b"a: b\nc: [\n\n", 2, BRACKET[0], BRACKET[1]),
    (b"[" * 100_000, 1, "nested over 20 levels deep", "the shop needs far fewer"),
    (b"{a: " * 100_000, 1, "nested over 20 levels deep", "the shop needs far fewer"),
    (b"- " * 100_000, 1, "nested over 20 levels deep", "the shop needs far fewer"),
]


@pytest.mark.parametrize(("raw", "line", "wrong", "mend"), UNREADABLE)
def test_file_unreadable_as_a_whole_is_refused_by_name(
    raw: bytes, line: int, wrong: str, mend: str
) -> None:
    assert read_shop(raw, "s.yaml") == (None, [f"s.yaml:{line}: file: {wrong}; {mend}"])


def test_byte_order_mark_and_windows_line_ends_are_fine(base: str) -> None:
    plain = read_shop(base.encode(), "s.yaml")
    windows = codecs.BOM_UTF8 + base.replace("\n", "\r\n").encode()

    assert read_shop(windows, "s.yaml") == plain
    assert plain[1] == []


def test_keys_within_keys_are_refused_and_then_cut_off() -> None:
    assert read_shop(b"? " * 100_000, "s.yaml") == (
        None,
        [
            "s.yaml:1: file: a list or mapping stands as a key; write a text as key",
            "s.yaml:1: file: nested over 20 levels deep; the shop needs far fewer",
        ],
    )


def test_alias_bomb_is_refused_by_its_anchors_and_aliases() -> None:
    _, faults = read_shop(BOMB.encode(), "s.yaml")

    assert [f for f in faults if "alias" in f or "anchor" in f] == [
        "s.yaml:1: a: anchor &a is not taken; write the value without it",
        "s.yaml:2: b: anchor &b is not taken; write the value without it",
        "s.yaml:2: b[0]: alias *a is not taken; write the value out",
        "s.yaml:2: b[1]: alias *a is not taken; write the value out",
        "s.yaml:3: c[0]: alias *b is not taken; write the value out",
        "s.yaml:3: c[1]: alias *b is not taken; write the value out",
    ]


def test_long_values_do_not_make_slow_patterns_run(base: str) -> None:
    dots = "." * 1_000_000
    spoiled = base.replace("every: 1 week", f"every: {dots} 1").replace("notice: 21", dots)
    began = time.perf_counter()
    _, faults = read_shop(spoiled.encode(), "s.yaml")

    assert time.perf_counter() - began < 5
    assert len(faults) >= 1


def test_a_fault_never_puts_control_characters_on_the_screen(base: str) -> None:
    spoiled = base.replace("every: 1 week", 'every: "\\e[2J"').replace("  starts:", '  "\\e[2J":')
    _, faults = read_shop(spoiled.encode(), "s.yaml")

    assert [fault for fault in faults if not fault.isprintable()] == []
    assert faults[0].startswith("s.yaml:11: shop.?[2J: is no key here")
