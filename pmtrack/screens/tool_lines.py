"""One line on how a tool stands."""

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


def renewal(tool: Tool) -> str:
    """What ends its interval: it is sharpened, or replaced where nothing can be ground."""
    return "sharpen" if tool.is_ground else "replace"


def next_line(wear: ToolWear) -> str:
    """Wear, what is left to grind and the day to sharpen, as far as they are known."""
    told = [f"{show(wear.wear_hits, 0)} of {show(wear.tool.sharpen_every, 0)} {wear.tool.unit}"]
    if wear.mm_left is not None and wear.tool.is_ground:
        told.append(f"{show(wear.mm_left, 3)} mm left")
    if wear.sharpen_on:
        told.append(f"{renewal(wear.tool)} on {wear.sharpen_on}")
    return ", ".join(told)
