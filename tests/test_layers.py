"""What each part of pmtrack may import, read from the source: rules stay pure, libraries apart."""

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "pmtrack"
FILES = sorted(PACKAGE.rglob("*.py"))
CLOCKS = {"now", "utcnow", "today", "time", "time_ns", "monotonic", "localtime", "gmtime"}
CLOCK_MODULES = {"datetime", "date", "time", "dt"}

PROJECT = tomllib.loads((PACKAGE.parent / "pyproject.toml").read_text("utf-8"))
# the layers of the import contract, highest first; parts of one layer do not import one another
LAYERS = [layer.split(" | ") for layer in PROJECT["tool"]["importlinter"]["contracts"][0]["layers"]]
# what a part may not import though it lies below
BESIDES = {
    "exports": {"store"},
    "shopfile": {"store"},
    "planning": {"store"},
    "statistics": {"store"},
    "pictures": {"store", "imports", "planning", "shopfile"},
    "publishing": {"store", "imports", "planning", "shopfile"},
    "screens": {"imports", "shopfile"},
}


def forbidden() -> dict[str, set[str]]:
    """Each part, and the parts of pmtrack that it may not import."""
    found: dict[str, set[str]] = {}
    above: set[str] = set()
    for layer in LAYERS:
        above |= set(layer)
        found |= {part: above - {part} | BESIDES.get(part, set()) for part in layer}
    return found


FORBIDDEN = forbidden()

# each library, and the only places that may import it
ONLY_IN = {
    "typer": {"cli"},
    "rich": {"screens", "cli"},
    "sqlite3": {"store"},
    "sqlite_utils": {"store"},
    "icalendar": {
        "exports/icalendar_file.py",
        "exports/shared_lines.py",
        "publishing/comparison.py",
    },
    "caldav": {"publishing"},
    "keyring": {"publishing"},
    "numpy": {"planning/solver.py", "statistics/weibull_likelihood.py"},
    "yaml": {"shopfile"},
    "pydantic": {"shopfile"},
    "scipy": {"rules/mtbf.py", "planning/solver.py", "statistics"},
    "dateutil": {"rules"},
    "csv": {
        "imports",
        "exports/csv_table.py",
        "store/loading.py",
        "store/unloading.py",
        "store/plain_files.py",
    },
    "matplotlib": {"pictures"},
}


def place(path: Path) -> str:
    """The file as written from the package, like rules/due.py."""
    return path.relative_to(PACKAGE).as_posix()


def imported(tree: ast.AST) -> Iterator[str]:
    """The full name of everything that is imported, wherever in the file."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written in full"
            yield str(node.module)
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def imported_at_once(tree: ast.Module) -> Iterator[str]:
    """What is imported when the file is, leaving out functions and what only a checker reads."""
    for node in tree.body:
        if isinstance(node, ast.Import | ast.ImportFrom):
            yield from imported(node)


TREES = {place(path): ast.parse(path.read_text("utf-8")) for path in FILES}
ALL = {where: set(imported(tree)) for where, tree in TREES.items()}


def parts(names: set[str]) -> set[str]:
    """The parts of pmtrack among imported names."""
    return {name.split(".")[1] for name in names if name.startswith("pmtrack.")}


def libraries(names: set[str]) -> set[str]:
    """The top-level packages among imported names."""
    return {name.split(".")[0] for name in names}


def test_the_files_are_read() -> None:
    assert len(FILES) > 80
    assert "pmtrack.rules.due" in ALL["actions/view.py"]


@pytest.mark.parametrize("part", FORBIDDEN)
def test_no_part_imports_from_above(part: str) -> None:
    wrong = {
        where: parts(names) & FORBIDDEN[part]
        for where, names in ALL.items()
        if where.startswith((f"{part}/", f"{part}.py"))
    }
    assert wrong
    assert {where: found for where, found in wrong.items() if found} == {}


@pytest.mark.parametrize("library", ONLY_IN)
def test_a_library_is_imported_in_its_own_place_only(library: str) -> None:
    users = {where for where, names in ALL.items() if library in libraries(names)}
    allowed = ONLY_IN[library]
    strangers = {where for where in users if not {where, where.split("/")[0]} & allowed}
    assert strangers == set()
    assert users, "nothing uses it any more: leave it out here and among the dependencies"


SQL = re.compile(r"\s*(SELECT|INSERT|UPDATE|DELETE|PRAGMA|WITH|REPLACE|CREATE|DROP|ALTER)\s")


def statements(tree: ast.AST) -> list[str]:
    """The texts in a file that begin like a statement of SQL, pieces of longer texts included."""
    texts = (node.value for node in ast.walk(tree) if isinstance(node, ast.Constant))
    return [text for text in texts if isinstance(text, str) and SQL.match(text)]


def test_sql_is_written_in_the_store_only() -> None:
    found = {where: statements(tree) for where, tree in TREES.items()}
    assert found["store/history.py"]
    assert {
        where for where, sql in found.items() if sql and not where.startswith("store/")
    } == set()


MODULES = {
    f"pmtrack.{where[:-3].replace('/', '.')}".removesuffix(".__init__"): tree
    for where, tree in TREES.items()
}


def modules_used(tree: ast.Module) -> set[str]:
    """Our modules that a file imports, wherever, but for what only a checker reads."""
    at_once = [node for node in tree.body if not isinstance(node, ast.If)]
    used = set()
    for node in (inner for outer in at_once for inner in ast.walk(outer)):
        if isinstance(node, ast.ImportFrom):
            for alias in node.names:
                whole = f"{node.module}.{alias.name}"
                used.add(whole if whole in MODULES else str(node.module))
    return used & MODULES.keys()


def test_no_import_goes_round_not_even_one_inside_a_function() -> None:
    used = {name: modules_used(tree) for name, tree in MODULES.items()}
    assert "pmtrack.store.tallies" in used["pmtrack.store.opening"]
    assert list(TopologicalSorter(used).static_order())  # raises CycleError


def test_rules_import_nothing_but_the_standard_library_dateutil_and_rules() -> None:
    known = set(sys.stdlib_module_names) | {"pmtrack", "dateutil"}
    for where, names in ALL.items():
        if where.startswith("rules/"):
            extra = {"scipy"} if where == "rules/mtbf.py" else set()
            assert libraries(names) <= known | extra, where
            assert parts(names) <= {"rules", "errors"}, where


def test_rules_touch_no_file_no_process_and_no_chance() -> None:
    outside = {"os", "io", "pathlib", "random", "secrets", "socket", "subprocess", "shutil",
               "tempfile", "logging", "getpass", "time", "uuid", "sqlite3"}  # fmt: skip
    allowed = {"rules/revision.py": {"uuid"}}  # uuid5 is computed from a name alone
    for where, names in ALL.items():
        if where.startswith("rules/"):
            assert libraries(names) & outside <= allowed.get(where, set()), where
    made = [n.id for n in ast.walk(TREES["rules/revision.py"]) if isinstance(n, ast.Name)]
    assert not {"uuid1", "uuid4"} & set(made)


def calls(tree: ast.AST) -> Iterator[ast.Call]:
    """Every call in a file."""
    return (node for node in ast.walk(tree) if isinstance(node, ast.Call))


def test_rules_print_and_open_nothing() -> None:
    for where, tree in TREES.items():
        if where.startswith("rules/"):
            names = {c.func.id for c in calls(tree) if isinstance(c.func, ast.Name)}
            assert not names & {"print", "open", "input", "exec", "eval"}, where


def reads_clock(call: ast.Call) -> bool:
    """Whether a call is like datetime.now() or date.today()."""
    func = call.func
    return (
        isinstance(func, ast.Attribute)
        and func.attr in CLOCKS
        and isinstance(func.value, ast.Name | ast.Attribute)
        and (func.value.id if isinstance(func.value, ast.Name) else func.value.attr)
        in CLOCK_MODULES
    )


def test_the_clock_is_read_in_one_place() -> None:
    readers = {where for where, tree in TREES.items() if any(map(reads_clock, calls(tree)))}
    assert readers == {"cli/session.py"}
    assert sum(map(reads_clock, calls(TREES["cli/session.py"]))) == 1
    for where, names in ALL.items():
        of_time = {name for name in names if name.startswith("time.")}
        assert of_time <= {"time.sleep"}, where
        assert of_time or "time" not in names, where  # the module whole tells the time, too


@pytest.mark.parametrize("where", [where for where in TREES if where.startswith("cli/")])
def test_the_command_line_imports_no_heavy_part_at_once(where: str) -> None:
    names = set(imported_at_once(TREES[where]))
    heavy = {"rich", "sqlite_utils", "icalendar", "scipy", "yaml", "pydantic", "caldav",
             "matplotlib"}  # fmt: skip
    assert libraries(names) & heavy == set()


def test_scipy_and_numpy_are_imported_inside_functions() -> None:
    heavy = {"scipy", "numpy", "matplotlib"}
    users = {where for where, names in ALL.items() if libraries(names) & heavy}
    at_once = {w for w in users if libraries(set(imported_at_once(TREES[w]))) & heavy}
    assert {"rules/mtbf.py", "planning/solver.py", "statistics/roots.py"} <= users
    assert at_once == set()


def test_no_file_is_long_and_none_is_called_utils() -> None:
    lengths = {place(path): len(path.read_text("utf-8").splitlines()) for path in FILES}
    assert {where: n for where, n in lengths.items() if n > 300} == {}
    assert not [where for where in lengths if "util" in where or "helper" in where]
