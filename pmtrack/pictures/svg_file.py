"""A drawing as an SVG file: nothing is fetched, nothing runs, and it can be read aloud."""

import html
import io
import re
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any
from warnings import catch_warnings, filterwarnings

from pmtrack.errors import Refused

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
_TURNING = {*range(0x202A, 0x202F), *range(0x2066, 0x206A)}  # marks that turn a line's direction


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


def shown(text: str) -> str:
    """A text without the characters that do not show or turn a line's direction."""
    return "".join(
        c
        for c in text
        if unicodedata.category(c) not in ("Cc", "Cs", "Co", "Cn") and ord(c) not in _TURNING
    )


def _escaped(text: str) -> str:
    return html.escape(shown(text))
