"""Numbers as people write them, and as people and programs get them."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.errors import UnreadableInput
from pmtrack.rules.quantity import LARGEST, parse_quantity, parse_whole, plain, shorten, show
from tests.build import parsed


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("41200", 41200),
        ("41,200", 41200),
        ("1,204,350", 1204350),
        (" 7.5 ", Fraction(15, 2)),
        ("+3", 3),
        ("-0.25", Fraction(-1, 4)),
        ("0", 0),
        ("007", 7),
        ("0.1", Fraction(1, 10)),  # exact, no binary fraction
        ("0.000001", Fraction(1, 10**6)),
        ("1.5000000", Fraction(3, 2)),  # idle zeros are no decimals
        ("1000000000000", LARGEST),
        ("1,000,000,000,000", LARGEST),
    ],
)
def test_a_number_is_read_exactly(text: str, value: int | Fraction) -> None:
    assert parse_quantity(text) == value


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("", "is not a number; write it like 41200 or 7.5"),
        ("many", "is not a number"),
        ("1e5", "is not a number"),
        ("nan", "is not a number"),
        ("inf", "is not a number"),
        ("1/2", "is not a number"),
        ("0x10", "is not a number"),
        ("1_000", "is not a number"),
        (".5", "is not a number"),
        ("5.", "is not a number"),
        ("1.204.350", "is not a number"),
        ("41,20", "is not a number"),
        ("4,12,000", "is not a number"),
        ("7,5", "is not a number"),  # a comma sets thousands apart
        ("--1", "is not a number"),
        ("1 000", "is not a number"),
        ("٣", "is not a number"),
        ("12345678901234567890", "is not a number"),
        ("0.0000001", "more than 6 decimals"),
        ("1000000000000.1", "too large"),
        ("-1000000000001", "too large"),
    ],
)
def test_what_is_no_number_is_refused_with_the_mend(text: str, complaint: str) -> None:
    with pytest.raises(UnreadableInput, match=complaint):
        parse_quantity(text)


@pytest.mark.parametrize(("text", "value"), [("310", 310), ("41,200", 41200), ("7.0", 7)])
def test_what_is_counted_in_pieces_is_whole(text: str, value: int) -> None:
    assert parse_whole("parts", text) == value


def test_a_part_of_a_piece_is_refused() -> None:
    with pytest.raises(UnreadableInput, match=r"parts are whole: '12\.5' is none"):
        parse_whole("parts", "12.5")


def test_programs_get_whole_numbers_whole() -> None:
    assert repr(plain(Fraction(41200))) == "41200"
    assert repr(plain(3)) == "3"
    assert repr(plain(Fraction(15, 2))) == "7.5"


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (1204350, 1, "1,204,350"),
        (Fraction(15, 2), 1, "7.5"),
        (Fraction(299, 100), 1, "3"),
        (Fraction(1, 3), 2, "0.33"),
        (Fraction(1, 3), 0, "0"),
        (1000, 0, "1,000"),  # its own zeros stay
        (-2.5, 1, "-2.5"),
        (0, 6, "0"),
    ],
)
def test_people_get_thousands_set_apart_and_no_idle_decimals(
    value: Fraction | float, decimals: int, text: str
) -> None:
    assert show(value, decimals) == text


def test_a_long_text_is_cut_for_a_message() -> None:
    assert shorten("as it is") == "as it is"
    assert shorten(" over\ntwo \t lines ") == "over two lines"
    assert shorten("x" * 40) == "x" * 40
    assert shorten("x" * 41) == "x" * 37 + "..."
    assert shorten("abcdefgh", 6) == "abc..."


MILLIONTHS = st.integers(-(10**18), 10**18).map(lambda n: Fraction(n, 10**6))


@given(MILLIONTHS)
def test_a_number_is_read_back_as_written(value: Fraction) -> None:
    sign = "-" if value < 0 else ""
    whole, part = divmod(abs(value) * 10**6, 10**6)
    assert parse_quantity(f"{sign}{whole}.{int(part):06}") == value
    assert parse_quantity(f"{sign}{whole:,}.{int(part):06}") == value


@given(st.integers(-LARGEST, LARGEST))
def test_a_whole_number_shown_is_read_back(value: int) -> None:
    assert parse_quantity(show(value)) == value


@given(st.text() | st.from_regex(r"[-+]?[0-9]{0,5}[.,]?[0-9]{0,8}", fullmatch=True))
def test_any_text_gives_a_number_or_is_refused(text: str) -> None:
    value = parsed(parse_quantity, text)
    assert value is None or abs(value) <= LARGEST
    assert value is None or (value * 10**6).denominator == 1
