"""Tables of saved plans and pins, and the list of entries made anew so that it takes pins."""

# SQLite cannot widen the check of a column: the table is made anew, with every row as it was.
_ENTRIES_ANEW = """
CREATE TABLE entry_anew (
    id INTEGER PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('shift', 'dial', 'completion', 'deferral', 'job', 'stop',
        'restart', 'idle', 'back', 'tool-count', 'tool-event', 'void', 'pin', 'release')),
    at TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??Z'),
    day TEXT NOT NULL CHECK (day GLOB '????-??-??'),
    whole_day INTEGER NOT NULL CHECK (whole_day IN (0, 1)),
    by TEXT NOT NULL CHECK (by <> ''),
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '????-??-??T??:??:??Z'),
    note TEXT NOT NULL
) STRICT;
INSERT INTO entry_anew (id, kind, at, day, whole_day, by, recorded_at, note)
    SELECT id, kind, at, day, whole_day, by, recorded_at, note FROM entry;
DROP TABLE entry;
ALTER TABLE entry_anew RENAME TO entry;
"""

_PINS = """
CREATE TABLE pin (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    task TEXT NOT NULL REFERENCES task (name),
    key TEXT NOT NULL CHECK (key <> ''),    -- of the job, the same in every plan
    pinned_to TEXT NOT NULL CHECK (pinned_to GLOB '????-??-??'),
    why TEXT NOT NULL
) STRICT;
CREATE INDEX pin_key ON pin (key);
CREATE INDEX pin_day ON pin (pinned_to);
CREATE TABLE release (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    target INTEGER NOT NULL REFERENCES pin (entry),
    CHECK (target < entry)
) STRICT;
CREATE INDEX release_target ON release (target);
"""

_SAVED_PLANS = """
CREATE TABLE plan (
    id INTEGER PRIMARY KEY,
    period TEXT NOT NULL CHECK (period <> ''),
    at TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??Z'),
    by TEXT NOT NULL CHECK (by <> ''),
    gap REAL NOT NULL CHECK (gap >= 0)      -- a share of its cost
) STRICT;
CREATE INDEX plan_period ON plan (period, id);
CREATE TABLE plan_job (
    plan INTEGER NOT NULL REFERENCES plan (id),
    key TEXT NOT NULL CHECK (key <> ''),
    task TEXT NOT NULL,
    day TEXT CHECK (day GLOB '????-??-??'),  -- null: the job does not fit
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    PRIMARY KEY (plan, key)
) STRICT;
CREATE INDEX plan_job_day ON plan_job (plan, day);
"""


def _guards(table: str, message: str) -> str:
    """Triggers that keep the rows of a table as they are."""
    return "".join(
        f"CREATE TRIGGER {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, '{message}'); END;\n"
        for verb in ("UPDATE", "DELETE")
    )


PLANS = "".join(
    (
        _ENTRIES_ANEW,
        _PINS,
        _SAVED_PLANS,
        *(_guards(table, "facts are only added; void the entry")
          for table in ("entry", "pin", "release")),
        *(_guards(table, "saved plans are kept; save a new one") for table in ("plan", "plan_job")),
    )
)  # fmt: skip
