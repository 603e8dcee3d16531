"""What a completion settled, when each task is next due, and what was found."""

from pmtrack.actions.technician import Done, Finding
from pmtrack.rules.due import TaskDue
from pmtrack.rules.quantity import show
from pmtrack.rules.schedule_words import schedule_words
from pmtrack.rules.shop import FixedSchedule, Task
from pmtrack.screens.lines import say, tell


def show_done(done: Done, raised: list[Task]) -> None:
    """Print the entry, each settled task with its next due date, and findings."""
    first, *others = done.settled
    after = "it is off the list" if first.task.once else f"next due {_next(first)}"
    tell(f"entry {done.entry}: {first.task.name} done; {after}")
    for due in others:
        tell(f"  settles {due.task.name} too; next due {_next(due)}")
    if done.superseded:
        tell("  a later completion stands already, so the next due date did not move")
    for finding in done.findings:
        tell(f"  OUT OF LIMITS: {_limits(finding)}")
    for task in raised:
        tell(f"  {task.name} is on the list until it is done: {task.title}")
    if done.findings and not raised:
        machine = first.task.machine
        say(
            "Put the repair on the list: "
            f"pmtrack job {machine} 'what is to be done' --found-in {done.entry}"
        )
    if done.same_day is not None:
        say(
            f"{first.task.name} was recorded on that day already, as entry {done.same_day};"
            f" if it is the same job: pmtrack void {done.entry} --why 'recorded twice'"
        )
    if done.not_measured:
        say(f"Not recorded: {', '.join(done.not_measured)} (--measure name=value)")


def _next(due: TaskDue) -> str:
    rule = due.governing
    if rule.due_on is None:
        return rule.remark or "not known"
    by = f", work by {rule.work_by}" if rule.work_by != rule.due_on else ""
    told = rule.rule.text
    if isinstance(rule.rule, FixedSchedule):
        told = schedule_words(told)
    return f"{rule.due_on:%a %Y-%m-%d}{by} ({told})"


def _limits(finding: Finding) -> str:
    step = finding.step
    unit = f" {step.unit}" if step.unit else ""
    value = f"{step.measure} {show(finding.value, 3)}{unit}"
    if step.low is not None and finding.value < step.low:
        return f"{value} is below {show(step.low, 3)}{unit}"
    return f"{value} is above {show(step.high or 0, 3)}{unit}"
