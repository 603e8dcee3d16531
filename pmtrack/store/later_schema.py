"""Tables and columns that came after the first facts: calendar exports, lengths, rhythms, stops."""

EXPORTS = """
CREATE TABLE export (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    period TEXT NOT NULL
) STRICT;
CREATE TABLE export_event (
    export INTEGER NOT NULL REFERENCES export (id),
    uid TEXT NOT NULL,
    task TEXT NOT NULL,
    sequence INTEGER NOT NULL CHECK (sequence >= 0),
    stamp TEXT NOT NULL,
    cancelled INTEGER NOT NULL CHECK (cancelled IN (0, 1)),
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    PRIMARY KEY (export, uid)
) STRICT;
CREATE INDEX export_event_uid ON export_event (uid, export);
"""

LENGTHS = """
ALTER TABLE tool_event ADD COLUMN length INTEGER
    CHECK (length IS NULL OR (length > 0 AND event = 'sharpen'));
"""

# always what the definition says: SQLite itself works it out, and keeps it in the index
RHYTHM = """
ALTER TABLE task ADD COLUMN rhythm TEXT AS (json_extract(definition,
    '$.every', '$.on', '$.once', '$.starts', '$.last_done', '$.lead', '$.covers')) VIRTUAL;
CREATE INDEX task_rhythm ON task (name, rhythm, first_applied, retired_on, raised_by);
"""

# a machine's stops that had no end of their own, of which few are later than its last restart
OPEN_STOPS = """
CREATE INDEX stop_open ON stop (machine, started) WHERE ended IS NULL;
"""
