"""The entries that a task's standing rests on."""

from typing import Any

from pmtrack.actions.view import View
from pmtrack.rules.due import TaskDue
from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.quantity import plain
from pmtrack.rules.shop import Interval
from pmtrack.store.codec import to_text

SHOWN = 12  # of a meter's latest entries


def evidence(view: View, due: TaskDue) -> list[dict[str, Any]]:
    """The completion that is the base, the deferral, and the latest entries of each meter."""
    rows: list[dict[str, Any]] = []
    base, deferral = due.situation.base, due.situation.deferral
    if base is not None and base.entry is not None:
        when = to_text(base.moment.at) if base.moment.at else base.moment.day.isoformat()
        rows.append({"entry": base.entry, "kind": "completion", "at": when, "what": base.source})
    if deferral is not None:
        what = f"put off through {deferral.until}: {deferral.why}"
        rows.append(
            {"entry": deferral.entry, "kind": "deferral", "at": to_text(deferral.at), "what": what}
        )
    for rule in due.rules:
        if isinstance(rule.rule, Interval) and not rule.rule.is_calendar:
            recent = view.meter(due.task.machine, rule.rule.unit).recent(view.day)
            rows += [_meter_row(e, rule.rule.unit) for e in recent.entries[-SHOWN:]]
    return rows


def _meter_row(entry: MeterEntry, meter: str) -> dict[str, Any]:
    kind = "dial" if entry.is_dial else "count"
    marks = "".join(f", {m}" for m in ("wrapped", "exchanged") if getattr(entry, m))
    return {
        "entry": entry.entry,
        "kind": kind,
        "at": to_text(entry.at),
        "day": entry.day.isoformat(),
        "meter": meter,
        "value": plain(entry.value),
        "what": f"{entry.day}  {plain(entry.value):,} {meter}{marks}",
    }
