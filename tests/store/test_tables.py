"""What is told of tables and columns in one place fits the schema, also when that grows."""

from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from pmtrack.store import Store, open_store
from pmtrack.store.plain_form import KEPT_AS_JSON
from pmtrack.store.sound_facts import _DATES
from pmtrack.store.tables import AMOUNTS, DESCRIBED, TABLES, WORKED_OUT, Described

COLUMNS = (
    "SELECT t.name, c.name, c.type, c.pk FROM sqlite_master AS t, pragma_table_info(t.name) AS c"
    " WHERE t.type = 'table' AND t.name NOT LIKE '%sqlite\\_%' ESCAPE '\\'"
)
OTHER_NUMBERS = {  # whole numbers that are no amounts: of a row, of minutes, in order, yes and no
    "id", "entry", "target", "raised_by", "found_in", "plan", "export", "minutes", "position",
    "sequence", "demo", "confirmed", "wrapped", "exchanged", "in_limits", "planned", "out",
    "cancelled", "whole_day",
}  # fmt: skip


@pytest.fixture
def empty() -> Iterator[Store]:
    """A store that holds nothing yet."""
    now = datetime(2026, 11, 25, tzinfo=UTC)
    with closing(open_store(Path(":memory:"), create=True, now=now)) as store:
        yield store


def test_a_whole_number_is_an_amount_or_known_to_be_none(empty: Store) -> None:
    numbers = {
        (table, column)
        for table, column, kind, _ in empty.rows(COLUMNS)
        if kind == "INTEGER" and table != WORKED_OUT and column not in OTHER_NUMBERS
    }
    assert numbers == AMOUNTS


def test_every_table_of_what_can_be_retired_is_described(empty: Store) -> None:
    retired = {table for table, column, *_ in empty.rows(COLUMNS) if column == "retired_on"}
    assert {described.table for described in DESCRIBED} == retired
    assert retired < set(KEPT_AS_JSON)
    assert {f"{table}.retired_on" for table in retired} < set(_DATES)


@pytest.mark.parametrize("described", DESCRIBED, ids=lambda described: described.table)
def test_a_described_table_has_the_columns_that_are_told_of_it(
    empty: Store, described: Described
) -> None:
    columns = {
        column: key for table, column, _, key in empty.rows(COLUMNS) if table == described.table
    }
    assert {column for column, key in columns.items() if key} == set(described.keys)
    assert set(described.repeated) <= columns.keys()


def test_what_an_entry_tells_stands_in_a_table_of_its_number(empty: Store) -> None:
    keyed = {
        table for table, column, _, key in empty.rows(COLUMNS) if (column, key) == ("entry", 1)
    }
    parts = {"count", "dial", "measurement"}  # of a shift, a reading, a completion
    assert keyed - parts == set(TABLES.values())
