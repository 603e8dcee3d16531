"""Why a tool stands where it does, and how it is handled: for the eye, and as JSON."""

from dataclasses import dataclass
from typing import Any

from rich.console import Console

from pmtrack.actions.why_tool import WhyTool
from pmtrack.exports.job_text import STANDING_CAUTION
from pmtrack.rules.explain_tool import explain_tool, remarks, rule_of
from pmtrack.rules.measured import lengths
from pmtrack.rules.shop import Machine
from pmtrack.rules.wear_shares import WearShare
from pmtrack.screens.terminal import show_lines
from pmtrack.screens.today_json import tool_json

HANDLING = (
    "Punches, dies and blades are sharp and heavy: cut-resistant gloves to carry them, a cart or "
    "hoist for the large ones, and no gloves at a running grinding wheel.",
    "Grind with guard, tool rest, extraction and eye protection in place; use only a wheel that is "
    "rated for the speed, ring-tested and dressed. Take off little at a time; keep the edge cool.",
)
CHANGING = (
    "Change tools and wear parts with the machine locked out as its procedure says; fingers stay "
    "out of the gap between punch and die, whatever the control shows."
)


@dataclass(frozen=True)
class Shown:
    """What is shown of a tool, with its machine."""

    told: WhyTool
    machine: Machine

    @property
    def cautions(self) -> list[str]:
        """The machine's, those of handling tools, and the standing one."""
        handling = HANDLING if self.told.story.wear.tool.is_ground else ()
        return [*self.machine.cautions, *handling, CHANGING, STANDING_CAUTION]


def as_json(shown: Shown) -> dict[str, Any]:
    """Rule, what the wear is made of, evidence rows and arithmetic."""
    story = shown.told.story
    return {
        "on": story.wear.as_of,
        **tool_json(story.wear),
        "rule": rule_of(story.wear),
        "shares": [_share_json(share) for share in story.shares],
        "lengths": [
            {"entry": e.entry, "on": e.moment.day, "length": e.length}
            for e in lengths(story.record.events)
        ],
        "arithmetic": explain_tool(story),
        "remarks": remarks(story),
        "evidence": shown.told.evidence,
        "entries_in_all": shown.told.entries_in_all,
        "cautions": shown.cautions,
    }


def _share_json(share: WearShare) -> dict[str, Any]:
    return {
        "source": share.source,
        "amount": share.amount,
        "hits_per_part": share.each,
        "factor": share.factor,
        "material": share.material,
        "wear": share.wear,
    }


def show_why_tool(shown: Shown, console: Console) -> None:
    """Print the reason first, then cautions, then the entries it rests on."""
    wear, told = shown.told.story.wear, shown.told
    title = ", ".join(filter(None, [wear.tool.kind, wear.tool.size]))
    place = f", station {wear.fitted[1]}" if wear.fitted else ""
    console.print(f"{wear.tool.code}  {title}".rstrip(), style="bold")
    console.print(f"{wear.state} on {wear.as_of:%A %Y-%m-%d}; {shown.machine.name}{place}")
    show_lines(console, "Why", explain_tool(told.story))
    show_lines(console, "To check", remarks(told.story))
    show_lines(console, "Cautions", shown.cautions)
    rows = [f"{row['entry']:>6}  {row['kind']:<10}  {row['what']}" for row in told.evidence]
    show_lines(console, "Entries it rests on", [*rows, *_more(told)])


def _more(told: WhyTool) -> list[str]:
    """How many entries of wear are not shown."""
    shown = sum("wear" in row for row in told.evidence)
    left = told.entries_in_all - shown
    return [f"and {left} earlier; see 'pmtrack entries'"] if left else []
