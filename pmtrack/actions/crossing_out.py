"""A mistake crossed out: the entry stays readable and counts no more."""

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.technician import check_alternating
from pmtrack.actions.tool_room import check_tool
from pmtrack.rules.facts import Moment
from pmtrack.rules.text import needed
from pmtrack.store.entries import cross_out, named_in, standing_kind


def void(recorder: Recorder, target: int, why: str, moment: Moment) -> int:
    """Cross an entry out, with the reason. Raises Refused while later entries rest on it."""
    kind = standing_kind(recorder.store, target)
    why = needed(why, "why", "--why 'typed for the wrong machine'")
    number = recorder.entry("void", recorder.happened(moment))
    cross_out(recorder.store, number, target, why)
    if kind in ("idle", "back"):
        check_alternating(recorder, named_in(recorder.store, "service_change", "machine", target))
    if kind == "tool-event":
        check_tool(recorder, named_in(recorder.store, "tool_event", "tool", target))
    return number
