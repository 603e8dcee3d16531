"""The sample shop against the intervals of the law; each citation with its row of the table."""

from pmtrack.rules.intervals import (
    grace_days,
)
from pmtrack.rules.shop import Task
from pmtrack.shopfile import read_shop
from tests.build import REFERENCE, reference

LAWS = {row["id"]: row for row in reference("statutory-intervals.csv")}

# Citation in the sample: the row of statutory-intervals.csv, and what that row allows, written as
# in the file. `each day` is a schedule of all working days or 1 day.
BINDING = {
    "29 CFR 1910.217(e)(1)(ii)": ("L01", "each week"),
    "29 CFR 1910.217(e)(1)(i)": ("L02", "no number"),
    "29 CFR 1910.147(c)(6)(i)": ("L06", "1 year"),
    "29 CFR 1910.157(e)(2)": ("L07", "each month"),
    "29 CFR 1910.157(e)(3)": ("L08", "1 year"),
    "29 CFR 1910.157(e)(4)": ("L09", "6 years"),
    "29 CFR 1910.157(f)(2) Table L-1": ("L11", "12 years"),
    "29 CFR 1910.157(g)(2) and (g)(4)": ("L12", "1 year"),
    "29 CFR 1910.178(q)(7)": ("L13", "each day"),
    "29 CFR 1910.178(l)(4)(iii)": ("L14", "3 years"),
    "29 CFR 1910.179(j)(2)(iii) and (iv)": ("L17", "1 month"),
    "Cal. Code Regs. title 8 s. 5031(c)": ("L18", "3 months and 750 hours"),
    "29 CFR 1910.184(d)": ("L20", "each day"),
    "29 CFR 1910.184(e)(3)(i)": ("L21", "1 year"),
    "29 CFR 1910.107(b)(5) and (g)(2)": ("L25", "each day"),
    "29 CFR 1910.134(h)(3)(i)": ("L31", "each day or 1 month"),
    "29 CFR 1910.169(b)(3)": ("L32", "no number"),
    "NFPA 86": ("L34", "1 year"),
}
SAYS = {  # what the row says, so that a changed row is noticed
    "L01": "1 week",
    "L02": "no number in the rule (employer sets it)",
    "L06": "1 year",
    "L07": "1 month",
    "L08": "1 year",
    "L09": "6 years",
    "L11": "12 years",
    "L12": "1 year",
    "L13": "1 day (after each shift if used round the clock)",
    "L14": "3 years",
    "L17": "1 month",
    "L18": "3 months or 750 h whichever first",
    "L20": "each day of use",
    "L21": "12 months at most",
    "L25": "each period of use / 1 day",
    "L31": "each use / 1 month",
    "L32": "frequently and at regular intervals (no number)",
    "L34": "1 year",
}
WRITTEN = {
    "FREQ=WEEKLY;BYDAY=WE": "each week",
    "FREQ=MONTHLY;BYDAY=1MO": "each month",
    "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR": "each day",
}


def sample_tasks() -> list[Task]:
    """The tasks of the sample shop that an authority demands."""
    path = REFERENCE.parents[2] / "sample_shop.yaml"
    shop, faults = read_shop(path.read_bytes(), path.name)
    assert shop is not None, faults
    return [found for found in shop.tasks if found.authority]


def written(found: Task) -> str:
    """How often a task is done, in the words of the table above."""
    if found.on:
        return WRITTEN[found.on.rule]
    return " and ".join(rule.text for rule in found.every)


def test_each_task_that_the_law_demands_has_the_interval_of_its_citation() -> None:
    for found in sample_tasks():
        row, allowed = BINDING[str(found.authority)]
        assert SAYS[row] == LAWS[row]["interval"], row
        if allowed != "no number":
            assert written(found) in allowed.split(" or "), found.name


def test_every_citation_of_the_sample_is_the_one_of_its_row() -> None:
    used = {str(found.authority) for found in sample_tasks()}
    assert used == set(BINDING)
    for citation, (row, _) in BINDING.items():
        stated = LAWS[row]["citation"].replace("California Title 8 section", "Cal. title 8 s.")
        assert citation.replace("Code Regs. ", "") in stated, row


def test_a_task_that_the_law_demands_has_no_grace_in_the_sample() -> None:
    for found in sample_tasks():
        assert grace_days(found, 30) == 0
        assert not found.grace
