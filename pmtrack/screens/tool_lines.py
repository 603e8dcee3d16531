"""One line on how a tool stands."""

from datetime import date

from pmtrack.rules.quantity import show
from pmtrack.rules.shop import Tool
from pmtrack.rules.wear import ToolWear

TOLD = {
    "sharpen": "sharpened",
    "fit": "fitted",
    "takeout": "taken out",
    "replace": "replaced",
    "scrap": "scrapped",
}
HORIZON_DAYS = 3652
FAR = "over 10 y"


def within_reach(day: date | None, today: date) -> str:
    """A date worth planning for; a tool that hardly wears has none within ten years."""
    if day is None:
        return "-"
    return str(day) if (day - today).days <= HORIZON_DAYS else FAR


def renewal(tool: Tool) -> str:
    """What ends its interval: it is sharpened, or replaced where nothing can be ground."""
    return "sharpen" if tool.is_ground else "replace"


def next_line(wear: ToolWear) -> str:
    """Wear, what is left to grind and the day to sharpen, as far as they are known."""
    told = [f"{show(wear.wear_hits, 0)} of {show(wear.tool.sharpen_every, 0)} {wear.tool.unit}"]
    if wear.mm_left is not None and wear.tool.is_ground:
        told.append(f"{show(wear.mm_left, 3)} mm left")
    if wear.sharpen_on:
        day = within_reach(wear.sharpen_on, wear.as_of)
        told.append(f"{renewal(wear.tool)} {'in' if day == FAR else 'on'} {day}")
    return ", ".join(told)
