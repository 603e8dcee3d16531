"""Changes that mean the same as what stood there, so that no test can notice: not counted."""

# module, the line, what stands there, what the change makes of it: why both mean the same
EQUIVALENT: dict[tuple[str, str, str, str], str] = {
    (
        "calendar_due",
        "return _window(task, due_on, work_by(due_on, None, workdays), dates.gap(index) or 0)",
        "0",
        "1",
    ): "a tenth of one day is no whole day either",
    (
        "dates",
        "after = date(year + month // 10, (month + 3) % 12, 1)",
        "10",
        "10 - 1",
    ): "no quarter begins in September",
    (
        "explain",
        "if standing.usage is None or standing.last_day is None:",
        "standing.usage is None or standing.last_day is None",
        "standing.usage is None",
    ): "a meter has both or neither",
    (
        "explain",
        "if rate.per_day is None or rule.due_on is None or rule.target is None:",
        "rate.per_day is None or rule.due_on is None or rule.target is None",
        "rate.per_day is None or rule.due_on is None",
    ): "a usage interval always has a target",
    (
        "meter_past",
        "noon = (datetime.combine(day, time(12), UTC) for day in self.days)",
        "12",
        "12 - 1",
    ): "any hour of the day orders the days",
    (
        "meter_past",
        "noon = (datetime.combine(day, time(12), UTC) for day in self.days)",
        "12",
        "13",
    ): "any hour of the day orders the days",
    (
        "meter_past",
        "earliest = list(accumulate((entry.day for entry in reversed(entries)), min))[::-1]",
        "reversed(entries)",
        "list(entries)",
    ): "no piece is cut then: slower, with the same totals",
    (
        "meter_past",
        "if place > start and latest < earliest[place]:",
        "latest < earliest[place]",
        "latest <= earliest[place]",
    ): "of a day cut in two the later piece tells the total",
    (
        "plan_reading",
        "elif found.window is not None and (step.kind == LEFT_OUT or found.misses(step.head)):",
        "found.window is not None and (step.kind == LEFT_OUT or found.misses(step.head))",
        "step.kind == LEFT_OUT or found.misses(step.head)",
    ): "a choice without a window has ended: nothing is left out of it or missed",
    (
        "revision",
        "return job.shown_on, job.done is not None",
        "job.done is not None",
        "job.done is None",
    ): "two jobs are compared by it, whichever way round",
    (
        "tool_life",
        "start, opening = 0, before",
        "0",
        "1",
    ): "it stays so without entries alone, and of none nothing is cut off",
    (
        "tool_life",
        "start, opening = 0, before",
        "0",
        "0 - 1",
    ): "it stays so without entries alone, and of none nothing is cut off",
    (
        "windows",
        "return 0, 0",
        "0",
        "0 - 1",
    ): "a window widened to its due day has that as its first and last day all the same",
    (
        "workdays",
        "high = low + 7 * (len(self.out) // each + 2)",
        "len(self.out) // each",
        "len(self.out) * each",
    ): "the search for a day begins farther out",
    (
        "workdays",
        "high = low + 7 * (len(self.out) // each + 2)",
        "2",
        "3",
    ): "the search for a day begins farther out",
    (
        "text",
        "_TURNING = {*range(0x202A, 0x202F), *range(0x2066, 0x206A)}",
        "8239",
        "8240",
    ): "U+202F is white space, of which none but plain blanks is left",
    (
        "workdays",
        "return tuple(sum(w < day for w in self.weekdays) for day in range(8))",
        "8",
        "8 - 1",
    ): "the last day asked about is a Sunday, weekday 6",
    (
        "workdays",
        "if through <= after:",
        "through <= after",
        "through < after",
    ): "from a day to itself the count is 0 too",
    (
        "worklist",
        "if any(name == shift and first <= on for name, first in known)"
        " and (shift, on) not in known",
        "first <= on",
        "first < on",
    ): "a shift logged on that very day is not missing anyhow",
    ("worth", "return 0, -thing.days, thing.what", "0", "0 - 1"): "first is first",
    ("worth", "return 3, -thing.days, thing.what", "3", "4"): "last is last",
}
