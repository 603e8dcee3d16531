"""The store's schema, in numbered steps. A step that has been released is never changed.

Amounts of meters, parts and tools are whole millionths, so that sums are exact. Instants are UTC
text (`2026-11-25T19:05:00Z`), which sorts in time order. `tally` alone is derived: it holds the
usage after each count or dial that stands, and can be made anew from the facts.
"""

from sqlite_utils import Database, Migrations

from pmtrack.store.later_schema import EXPORTS, LENGTHS, OPEN_STOPS, RHYTHM
from pmtrack.store.plan_schema import PLANS

steps = Migrations("pmtrack")

_DESCRIPTION = """
CREATE TABLE store (
    id TEXT NOT NULL PRIMARY KEY,           -- a random UUID; calendar UIDs rest on it
    made_at TEXT NOT NULL,
    demo INTEGER NOT NULL CHECK (demo IN (0, 1))
) STRICT;
CREATE TABLE applied (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    by TEXT NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition))  -- of the shop itself
) STRICT;
CREATE TABLE supplier (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
CREATE TABLE machine (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
CREATE TABLE meter (
    machine TEXT NOT NULL REFERENCES machine (code),
    name TEXT NOT NULL,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT,
    PRIMARY KEY (machine, name)
) STRICT;
CREATE TABLE task (
    name TEXT NOT NULL PRIMARY KEY,         -- machine/code
    machine TEXT NOT NULL REFERENCES machine (code),
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    first_applied TEXT NOT NULL,
    retired_on TEXT,
    raised_by INTEGER REFERENCES entry (id)  -- of a one-off job: the entry that raised it
) STRICT;
CREATE TABLE material (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
CREATE TABLE tool (
    code TEXT NOT NULL PRIMARY KEY,
    machine TEXT NOT NULL REFERENCES machine (code),
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
CREATE TABLE program (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
"""

_FACTS = """
CREATE TABLE entry (
    id INTEGER PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('shift', 'dial', 'completion', 'deferral', 'job', 'stop',
        'restart', 'idle', 'back', 'tool-count', 'tool-event', 'void')),
    at TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??Z'),
    day TEXT NOT NULL CHECK (day GLOB '????-??-??'),
    whole_day INTEGER NOT NULL CHECK (whole_day IN (0, 1)),
    by TEXT NOT NULL CHECK (by <> ''),
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '????-??-??T??:??:??Z'),
    note TEXT NOT NULL
) STRICT;
CREATE TABLE void (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    target INTEGER NOT NULL UNIQUE REFERENCES entry (id),
    why TEXT NOT NULL CHECK (why <> ''),
    CHECK (target < entry)
) STRICT;
CREATE TABLE shift_log (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    shift TEXT NOT NULL,
    day TEXT NOT NULL,
    parts INTEGER CHECK (parts >= 0),
    scrap INTEGER CHECK (scrap >= 0),
    program TEXT REFERENCES program (code),
    material TEXT REFERENCES material (code),
    confirmed INTEGER NOT NULL CHECK (confirmed IN (0, 1))
) STRICT;
CREATE INDEX shift_log_machine_day ON shift_log (machine, day, shift);
CREATE INDEX shift_log_program ON shift_log (program, day) WHERE program IS NOT NULL;
CREATE TABLE count (
    entry INTEGER NOT NULL REFERENCES shift_log (entry),
    machine TEXT NOT NULL,
    meter TEXT NOT NULL,
    amount INTEGER NOT NULL CHECK (amount >= 0),
    PRIMARY KEY (entry, meter),
    FOREIGN KEY (machine, meter) REFERENCES meter (machine, name)
) STRICT;
CREATE TABLE dial (
    entry INTEGER NOT NULL REFERENCES entry (id),
    machine TEXT NOT NULL,
    meter TEXT NOT NULL,
    at TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??Z'),
    day TEXT NOT NULL CHECK (day GLOB '????-??-??'),
    reading INTEGER NOT NULL CHECK (reading >= 0),
    wrapped INTEGER NOT NULL CHECK (wrapped IN (0, 1)),
    exchanged INTEGER NOT NULL CHECK (exchanged IN (0, 1)),
    PRIMARY KEY (entry, meter),
    FOREIGN KEY (machine, meter) REFERENCES meter (machine, name),
    CHECK (wrapped + exchanged < 2)
) STRICT;
CREATE TABLE completion (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    task TEXT NOT NULL REFERENCES task (name),
    at TEXT NOT NULL,
    minutes INTEGER CHECK (minutes >= 0)
) STRICT;
CREATE INDEX completion_task ON completion (task, at);
CREATE TABLE measurement (
    entry INTEGER NOT NULL REFERENCES completion (entry),
    name TEXT NOT NULL,
    value INTEGER NOT NULL,
    in_limits INTEGER NOT NULL CHECK (in_limits IN (0, 1)),
    PRIMARY KEY (entry, name)
) STRICT;
CREATE TABLE deferral (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    task TEXT NOT NULL REFERENCES task (name),
    at TEXT NOT NULL,
    until TEXT NOT NULL CHECK (until GLOB '????-??-??'),
    why TEXT NOT NULL CHECK (why <> '')
) STRICT;
CREATE INDEX deferral_task ON deferral (task, at);
CREATE TABLE job (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    title TEXT NOT NULL CHECK (title <> ''),
    found_in INTEGER REFERENCES completion (entry)
) STRICT;
CREATE TABLE stop (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    started TEXT NOT NULL,
    ended TEXT,
    planned INTEGER NOT NULL CHECK (planned IN (0, 1)),
    cause TEXT NOT NULL CHECK (cause <> ''),
    CHECK (ended IS NULL OR ended > started)
) STRICT;
CREATE INDEX stop_machine ON stop (machine, started);
CREATE TABLE restart (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    at TEXT NOT NULL
) STRICT;
CREATE INDEX restart_machine ON restart (machine, at);
CREATE TABLE service_change (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    at TEXT NOT NULL,
    day TEXT NOT NULL,
    out INTEGER NOT NULL CHECK (out IN (0, 1)),  -- 1: taken out of service, 0: back
    why TEXT NOT NULL
) STRICT;
CREATE INDEX service_change_machine ON service_change (machine, at);
CREATE TABLE tool_count (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    tool TEXT NOT NULL REFERENCES tool (code),
    hits INTEGER NOT NULL CHECK (hits >= 0),
    material TEXT REFERENCES material (code)
) STRICT;
CREATE INDEX tool_count_tool ON tool_count (tool);
CREATE TABLE tool_event (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    tool TEXT NOT NULL REFERENCES tool (code),
    event TEXT NOT NULL CHECK (event IN ('sharpen', 'fit', 'takeout', 'replace', 'scrap')),
    mm INTEGER CHECK (mm > 0),
    why TEXT CHECK (why IN ('planned', 'burr', 'chipped')),
    machine TEXT REFERENCES machine (code),
    station TEXT,
    CHECK ((event = 'sharpen') = (mm IS NOT NULL)),
    CHECK ((event = 'fit') = (station IS NOT NULL))
) STRICT;
CREATE INDEX tool_event_tool ON tool_event (tool);
"""

_DERIVED = """
CREATE TABLE tally (
    machine TEXT NOT NULL,
    meter TEXT NOT NULL,
    at TEXT NOT NULL,
    is_dial INTEGER NOT NULL,
    entry INTEGER NOT NULL,
    day TEXT NOT NULL,
    value INTEGER NOT NULL,
    wrapped INTEGER NOT NULL,
    exchanged INTEGER NOT NULL,
    usage INTEGER NOT NULL,                 -- since the level before the first entry
    dial_offset INTEGER,                    -- added to a dial reading gives usage
    level INTEGER NOT NULL,                 -- usage before the first entry
    counted INTEGER NOT NULL,               -- a count came since the last dial
    unlogged INTEGER NOT NULL,
    PRIMARY KEY (machine, meter, at, is_dial, entry)
) STRICT, WITHOUT ROWID;
"""

_NEVER_CHANGED = (
    "entry", "void", "shift_log", "count", "dial", "completion", "measurement", "deferral", "job",
    "stop", "restart", "service_change", "tool_count", "tool_event",
)  # fmt: skip


@steps()
def m001_description(db: Database) -> None:
    """Machines, meters, tasks, tools and programs, as the shop file describes them."""
    _run(db, _DESCRIPTION)


@steps()
def m002_facts(db: Database) -> None:
    """What happened, each with the number of its entry; rows are added and never changed."""
    _run(db, _FACTS)
    for table in _NEVER_CHANGED:
        for verb in ("UPDATE", "DELETE"):
            db.execute(
                f"CREATE TRIGGER {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
                "BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END"
            )


@steps()
def m003_derived(db: Database) -> None:
    """Usage after each count and dial that stands."""
    _run(db, _DERIVED)


@steps()
def m004_exports(db: Database) -> None:
    """What calendar files have said, so that a revision can follow on."""
    _run(db, EXPORTS)


@steps()
def m005_plans(db: Database) -> None:
    """Saved plans; jobs pinned to a day and released, as further kinds of entries."""
    _run(db, PLANS)


@steps()
def m006_lengths(db: Database) -> None:
    """The length of a tool measured after a sharpening, where one was taken."""
    _run(db, LENGTHS)


@steps()
def m007_rhythm(db: Database) -> None:
    """How often each task comes, beside its definition, so that the quiet ones are found fast."""
    _run(db, RHYTHM)


@steps()
def m008_open_stops(db: Database) -> None:
    """Which stops may still run, so that a list of the day looks at few of them."""
    _run(db, OPEN_STOPS)


def _run(db: Database, script: str) -> None:
    """The statements of a script one by one: executescript would end the transaction."""
    for statement in script.split(";\n"):
        if statement.strip():
            db.execute(statement)
