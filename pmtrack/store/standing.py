"""Which entries stand, in the words of SQL: a crossed-out one stays, and counts no more."""


def stands(entry: str) -> str:
    """The condition that the entry whose number that column holds is not crossed out."""
    return f"NOT EXISTS (SELECT 1 FROM void WHERE void.target = {entry})"


STANDS = stands("entry.id")  # where the row of the entry itself is among those read
