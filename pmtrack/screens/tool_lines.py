"""One line on how a tool stands."""

from pmtrack.rules.quantity import show
from pmtrack.rules.wear import ToolWear

TOLD = {
    "sharpen": "sharpened",
    "fit": "fitted",
    "takeout": "taken out",
    "replace": "replaced",
    "scrap": "scrapped",
}


def next_line(wear: ToolWear) -> str:
    """Wear, what is left to grind and the day to sharpen, as far as they are known."""
    told = [f"{show(wear.wear_hits, 0)} of {show(wear.tool.sharpen_every, 0)} wear hits"]
    if wear.mm_left is not None:
        told.append(f"{show(wear.mm_left, 3)} mm left")
    if wear.sharpen_on:
        told.append(f"sharpen on {wear.sharpen_on}")
    return ", ".join(told)
