"""What breaks on a damaged store is told as damage; nothing else is held up by looking for it."""

from contextlib import closing
from pathlib import Path

import pytest

from pmtrack.errors import Refused
from pmtrack.store import open_store, upkeep
from pmtrack.store.damage import told_as_damage

MAY_BE_DAMAGE: list[Exception] = [
    ValueError(), TypeError(), AttributeError(), KeyError("TP-9"), IndexError(),
    ZeroDivisionError(), RecursionError(), AssertionError(), StopIteration(),
]  # fmt: skip
IS_NONE: list[BaseException] = [
    MemoryError(), KeyboardInterrupt(), OSError(), Refused(), NameError(), NotImplementedError(),
]  # fmt: skip


def broken(path: Path, error: BaseException) -> None:
    """A command that ends in an error."""
    with closing(open_store(path)) as store, told_as_damage(store), store.reading():
        raise error


@pytest.mark.parametrize("error", MAY_BE_DAMAGE, ids=repr)
def test_what_damage_can_cause_is_a_defect_of_ours_where_there_is_none(
    error: Exception, worked_store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(type(error)) as raised:
        broken(worked_store, error)
    assert raised.value is error
    monkeypatch.setattr(upkeep, "verify", lambda _: ["entry 6 is missing", "text: and more"])
    with pytest.raises(Refused) as told:
        broken(worked_store, error)
    words = "the store is damaged: entry 6 is missing; go back to a backup"
    assert str(told.value) == f"{worked_store}: {words}"


@pytest.mark.parametrize("error", IS_NONE, ids=repr)
def test_the_store_is_not_read_after_what_no_damage_causes(
    error: BaseException, worked_store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[object] = []
    monkeypatch.setattr(upkeep, "verify", asked.append)
    with pytest.raises(type(error)) as raised:
        broken(worked_store, error)
    assert raised.value is error
    assert asked == []
