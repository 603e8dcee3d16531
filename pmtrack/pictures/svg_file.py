"""A drawing as an SVG file: nothing is fetched, nothing runs, and it can be read aloud."""

import html
import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any
from warnings import catch_warnings, filterwarnings

from pmtrack.errors import Refused
from pmtrack.rules.text import shown

if TYPE_CHECKING:
    from matplotlib.figure import Figure

MISSING = "pictures need one more library; install it with: pip install 'pmtrack[analysis]'"
_FONTS = ["DejaVu Sans", "Arial", "Liberation Sans", "Helvetica", "sans-serif"]
_STYLE: dict[Any, Any] = {
    "svg.fonttype": "none",  # letters stay letters: they can be searched and read aloud
    "svg.hashsalt": "pmtrack",
    "font.family": "sans-serif",
    "font.sans-serif": _FONTS,
    "font.size": 10,
    "text.parse_math": False,
    "axes.spines.top": False,
    "axes.spines.right": False,
}
_UNWANTED = re.compile(r"<!DOCTYPE[^>]*>\n?|<metadata>.*?</metadata>\n?", re.DOTALL)


@contextmanager
def style() -> Iterator[None]:
    """Our style alone, whatever the user set for other drawings. Refused without the library."""
    try:
        import matplotlib
    except ImportError:
        raise Refused(MISSING) from None
    with matplotlib.rc_context():
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(_STYLE)
        yield


def svg(figure: "Figure", title: str, description: str) -> bytes:
    """The file, with a title and a description for those who cannot see it. Within `style`."""
    written = io.StringIO()
    with catch_warnings():
        # A letter that our font lacks is measured roughly; the browser has it.
        filterwarnings("ignore", "Glyph ")
        figure.savefig(written, format="svg", metadata={"Date": None})
    named = (
        '<svg role="img" aria-labelledby="title description" ',
        f'<title id="title">{_escaped(title)}</title>\n'
        f'<desc id="description">{_escaped(description)}</desc>\n',
    )
    start, head, rest = _UNWANTED.sub("", written.getvalue()).partition("<svg ")
    attributes, end, body = rest.partition(">\n")
    return f"{start}{named[0] if head else ''}{attributes}{end}{named[1]}{body}".encode()


def _escaped(text: str) -> str:
    return html.escape(shown(text))
