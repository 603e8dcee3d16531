"""A mistake crossed out: the entry stays readable and counts no more."""

from dataclasses import dataclass
from typing import Any

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.technician import check_alternating
from pmtrack.actions.tool_room import check_tool
from pmtrack.actions.view import View
from pmtrack.rules.due import TaskDue
from pmtrack.rules.facts import Moment
from pmtrack.rules.text import needed
from pmtrack.store.entries import cross_out, entry_of, jobs_found_in, named_in, standing_kind


@dataclass(frozen=True)
class CrossedOut:
    """What was crossed out, by which entry, and what that leaves behind.

    `said` is the entry as the list of entries has it; `now` how its task, if there is one still,
    stands without it; `left` the jobs that were found in it and stay on the list, by name, each
    with its entry.
    """

    entry: int
    said: dict[str, Any]
    now: TaskDue | None
    left: dict[str, int]


def void(recorder: Recorder, target: int, why: str, moment: Moment) -> CrossedOut:
    """Cross an entry out, with the reason. Raises Refused while later entries rest on it."""
    kind = standing_kind(recorder.store, target)
    said = entry_of(recorder.store, target)
    why = needed(why, "why", "--why 'typed for the wrong machine'")
    number = recorder.entry("void", recorder.happened(moment))
    cross_out(recorder.store, number, target, why)
    if kind in ("idle", "back"):
        check_alternating(recorder, named_in(recorder.store, "service_change", "machine", target))
    if kind == "tool-event":
        check_tool(recorder, named_in(recorder.store, "tool_event", "tool", target))
    after = View(recorder.store, recorder.view.day)
    task = after.stored.task(said["task"]) if kind in ("completion", "deferral") else None
    now = after.due(task) if task else None
    found = jobs_found_in(recorder.store, target)
    left = {job: entry for job, entry in found.items() if after.base(after.task(job)) is None}
    return CrossedOut(number, said, now, left)
