"""What must be told of a new table or column: what it holds, and how it is kept."""

from typing import Any, NamedTuple

from pmtrack.rules.shop import Machine, Material, Meter, Program, Supplier, Task, Tool

TABLES = {  # that hold what entries of a kind tell
    "shift": "shift_log",
    "completion": "completion",
    "deferral": "deferral",
    "job": "job",
    "stop": "stop",
    "restart": "restart",
    "idle": "service_change",
    "back": "service_change",
    "tool-count": "tool_count",
    "tool-event": "tool_event",
    "pin": "pin",
    "release": "release",
    "void": "void",
}
AMOUNTS = {  # table and column of whatever is kept in millionths
    ("count", "amount"), ("dial", "reading"), ("measurement", "value"), ("shift_log", "parts"),
    ("shift_log", "scrap"), ("tool_count", "hits"), ("tool_event", "mm"), ("tool_event", "length"),
}  # fmt: skip
WORKED_OUT = "tally"  # the table that can be made anew


class Described(NamedTuple):
    """A table of what the shop file describes: each row is kept as a record, retired or not.

    `keys` identify a row; the columns `repeated` must say what the record says.
    """

    table: str
    record: type[Any]
    keys: tuple[str, ...]
    repeated: tuple[str, ...]


DESCRIBED = (
    Described("supplier", Supplier, keys=("code",), repeated=("code",)),
    Described("machine", Machine, keys=("code",), repeated=("code",)),
    Described("meter", Meter, keys=("machine", "name"), repeated=("name",)),
    Described("task", Task, keys=("name",), repeated=("name", "machine")),
    Described("material", Material, keys=("code",), repeated=("code",)),
    Described("tool", Tool, keys=("code",), repeated=("code", "machine")),
    Described("program", Program, keys=("code",), repeated=("code",)),
)
