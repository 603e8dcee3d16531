"""What the pictures of a report have in common: small letters, black, grey and hatches."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from pmtrack.pictures.svg_file import style
from pmtrack.rules.quantity import shorten
from pmtrack.rules.text import shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

WIDTH = 7.4  # inches between the margins of a portrait page
HALF = 3.6
ACCENT = "#0b3d91"  # dark enough for a black and white print
UNPLANNED: dict[str, Any] = {"color": "black", "edgecolor": "black", "linewidth": 0.5}
PLANNED: dict[str, Any] = {"color": "white", "edgecolor": "black", "linewidth": 0.5,
                           "hatch": "//////"}  # fmt: skip
LINE: dict[str, Any] = {"color": ACCENT, "linewidth": 1.3, "marker": "o", "markersize": 3.2}


@contextmanager
def report_style() -> Iterator[None]:
    """Our style with the letters of a report. Refused where the library is missing."""
    with style():
        import matplotlib

        matplotlib.rcParams.update(
            {
                "font.size": 8,
                "axes.titlesize": 8,
                "axes.titlelocation": "left",
                "hatch.linewidth": 0.5,
                "axes.linewidth": 0.6,
            }
        )
        yield


def label(text: str, width: int) -> str:
    """A name as a picture has room for it."""
    return shorten(shown(text), width)


def quiet_grid(axes: "Axes") -> None:
    """Thin level lines behind what is drawn."""
    axes.grid(True, axis="y", color="#cccccc", linewidth=0.5)
    axes.set_axisbelow(True)
