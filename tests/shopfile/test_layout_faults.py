"""What YAML allows and the shop file does not, and what is no YAML."""

from collections.abc import Callable

import pytest

# old and new piece of the good file; then line and place of the fault, what is wrong, the mend
CASES = [
    (
        "  name: Quillback Sheet Works",
        "  name: &firm Quillback",
        ("2: shop.name", "anchor &firm is not taken", "write the value without it"),
    ),
    (
        "name: Press brake\n",
        "name: *firm\n",
        ("23: machines[1].name", "alias *firm is not taken", "write the value out"),
    ),
    (
        "  name: Quillback Sheet Works",
        "  name: !!str Quillback",
        ("2: shop.name", "tag !!str is not taken", "write the value without it, or in quotes"),
    ),
    (
        "  crew_hours: 6",
        "  crew_hours: 6\n  crew_hours: 7",
        ("11: shop.crew_hours", "stands twice, first on line 10", "keep one"),
    ),
    (
        "  crew_hours: 6",
        "  <<: {starts: 2026-01-05}\n  crew_hours: 6",
        ("10: shop.<<", "a merge key is not taken", "write the keys out"),
    ),
    (
        "  crew_hours: 6",
        "  [a, b]: 6",
        ("10: shop", "a list or mapping stands as a key", "write a text as key"),
    ),
    (
        "{on: 2026-11-26, why",
        "{on: 2026-11-26, : 6, why",
        (
            "8: file",
            "a value is missing, or a bracket is not closed",
            "write the value, or close the bracket",
        ),
    ),
    (
        "  crew_hours: 6",
        "  *a : 6\n  crew_hours: 6",
        ("10: shop", "alias *a is not taken", "write the value out"),
    ),
    (
        "  crew_hours: 6",
        "  &a crew_hours: 6",
        ("10: shop", "anchor &a is not taken", "write the value without it"),
    ),
    (
        "Quillback Sheet Works",
        '"a\\u2028b"',
        ("2: shop.name", "holds the control character U+2028", "delete it"),
    ),
    (
        "Quillback Sheet Works",
        '"a\tb"',
        ("2: shop.name", "holds the control character U+0009", "delete it"),
    ),
    (
        "Quillback Sheet Works",
        '"a\\u202eb"',
        ("2: shop.name", "holds the control character U+202E", "delete it"),
    ),
    (
        "shop:\n",
        "%YAML 3.0\n---\nshop:\n",
        ("1: file", "not YAML version 1", "delete the line that begins with %YAML"),
    ),
    (
        "  timezone",
        "  %timezone",
        ("3: file", "a value cannot begin with this character", "put the value in quotes"),
    ),
    (
        "  crew_hours: 6",
        "  crew_hours: 6\n- a",
        ("11: file", "this line does not line up with the keys above it", "check the indentation"),
    ),
    (
        "    - {on: 2026-11-26",
        "    - on: 2026-11-26\n  - {on: 2026-11-26",
        ("9: file", "this line does not line up with the keys above it", "check the indentation"),
    ),
    (
        "days: mon-fri",
        "days:",
        (
            "5: file",
            "a key without its colon, or none of the space behind it",
            "write it like key: value",
        ),
    ),
    (
        "[Lock out and tag out before opening guards.]",
        "",
        ("21: machines[0].cautions", "is empty", "write a list, or leave the key out"),
    ),
    (
        "  crew_hours: 6",
        "\tcrew_hours: 6",
        ("10: file", "a tab indents this line", "indent with spaces"),
    ),
    (
        "suppliers:\n",
        "---\nsuppliers:\n",
        ("12: file", "a second document begins", "keep one, without the line ---"),
    ),
    (
        "    name: Press brake\n",
        "    name: Press brake: 3 m\n",
        (
            "23: file",
            "a colon where none can stand",
            "put text with a colon in quotes, or check the indentation",
        ),
    ),
    (
        "    name: Press brake\n",
        '    name: "Press brake\n',
        ("23: file", "a quote is opened and never closed", "close it"),
    ),
    (
        "    name: Press brake\n",
        "    name: @brake\n",
        ("23: file", "a value cannot begin with this character", "put the value in quotes"),
    ),
    (
        "    name: Press brake\n",
        '    name: "Press \\brake \\q"\n',
        ("23: file", "a backslash in double quotes begins no known sign", "use single quotes"),
    ),
    (
        "    name: Press brake\n",
        "   name: Press brake\n",
        ("23: file", "this line does not line up with the list above it", "check the indentation"),
    ),
    (
        "    name: Press brake\n",
        "    name Press brake\n",
        (
            "23: file",
            "a key without its colon, or none of the space behind it",
            "write it like key: value",
        ),
    ),
    (
        "[TP-1, PB-1]",
        "[TP-1, PB-1",
        (
            "29: file",
            "a bracket or brace is not closed, or a comma is missing",
            "close it, or add the comma",
        ),
    ),
    (
        "[TP-1, PB-1]",
        "[[[[[[[[[[[[[[[[[[[[[TP-1]]]]]]]]]]]]]]]]]]]]]",
        ("29: file", "nested over 20 levels deep", "the shop needs far fewer"),
    ),
]


@pytest.mark.parametrize(("old", "new", "told"), CASES)
def test_layout_fault_is_told_with_line_and_mend(
    faults_after: Callable[[str, str], list[str]], old: str, new: str, told: tuple[str, str, str]
) -> None:
    where, wrong, mend = told
    ending = f"; {mend}" if mend else ""
    assert faults_after(old, new) == [f"shop.yaml:{where}: {wrong}{ending}"]
