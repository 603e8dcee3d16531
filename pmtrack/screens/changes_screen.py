"""What an apply did."""

from collections.abc import Sequence

from pmtrack.screens.lines import tell
from pmtrack.store.description import Change


def show_changes(changes: Sequence[Change]) -> None:
    """Print each change, and their number."""
    if not changes:
        tell("nothing to change: the store is as the file says")
        return
    for change in changes:
        fields = f" ({', '.join(change.fields)})" if change.fields else ""
        tell(f"{change.what:<8} {change.kind:<9} {change.name}{fields}")
    counts = {w: sum(c.what == w for c in changes) for w in ("added", "changed", "retired")}
    tell(", ".join(f"{count} {what}" for what, count in counts.items()))
