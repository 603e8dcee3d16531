"""What is changed in a module, and that a change holds wherever the module was imported."""

import ast
from types import ModuleType

import pytest

from tests.mutation.__main__ import RULES
from tests.mutation.changes import changes
from tests.mutation.equivalent import EQUIVALENT
from tests.mutation.swap import swap


@pytest.mark.parametrize(
    ("source", "instead"),
    [
        ("a < b", ["a <= b", "a >= b"]),
        ("a is not b", ["a is b"]),
        ("a + b * c", ["a - b * c", "b / c"]),
        ("a and b and c", ["a or b or c", "b and c", "a and c", "a and b"]),
        ("-a", ["a"]),
        ("a if b else c", ["c if b else a"]),
        ("[x for x in a if b]", ["[x for x in a]"]),
        ("min(a)", ["max(a)"]),
        ("3", ["4", "3 - 1"]),
        ("True", ["False"]),
        ("'words' + a", []),
    ],
)
def test_what_may_stand_in_place_of_an_expression(source: str, instead: list[str]) -> None:
    assert [change.after for change in changes(f"x = {source}")] == instead


@pytest.mark.parametrize(
    ("source", "instead"),
    [
        ("return a", ["return None"]),
        ("return None", []),
        ("raise a", ["pass"]),
        ("a.b()", ["pass"]),
        ("a += b", ["a -= b", "pass"]),
        ("a[b] = c", ["pass"]),
        ("assert a < b", []),
        ("'''Words.'''", []),
    ],
)
def test_what_may_stand_in_place_of_a_statement(source: str, instead: list[str]) -> None:
    assert [change.after for change in changes(f"def f():\n    {source}")] == instead


MODULE = """
from dataclasses import dataclass
LEAST = 3

@dataclass(frozen=True)
class One:
    a: int = 5

    @property
    def more(self) -> bool:
        return self.a > LEAST
"""


def test_a_change_holds_for_what_was_made_before_it() -> None:
    module = ModuleType("changed")
    exec(MODULE, vars(module))  # noqa: S102 - the lines above
    one = module.One(3)
    assert (one.more, module.One().a) == (False, 5)
    told = {change.after: change for change in changes(MODULE)}
    assert {"4", "6"} < set(told)
    assert [told[name].loaded for name in ("4", "6", "self.a >= LEAST")] == [True, True, False]
    swap(module, told["self.a >= LEAST"].made_in(MODULE))
    assert one.more
    swap(module, told["6"].made_in(MODULE))
    assert (one.more, module.One().a) == (False, 6)  # one change at a time
    swap(module, ast.parse(MODULE))
    assert (one.more, module.One().a) == (False, 5)


@pytest.mark.parametrize("module", sorted({module for module, *_ in EQUIVALENT}))
def test_what_is_called_equivalent_still_stands_in_the_rules(module: str) -> None:
    source = (RULES / f"{module}.py").read_text("utf-8")
    lines = [line.strip() for line in source.splitlines()]
    made = {(lines[one.first - 1], one.before, one.after) for one in changes(source)}
    assert [key for name, *key in EQUIVALENT if name == module and tuple(key) not in made] == []
