"""HTML documents that stand alone: nothing is fetched, nothing runs, every text is harmless."""

import html
import re
from collections.abc import Iterable
from datetime import date
from typing import NewType

from pmtrack.rules.text import shown

Html = NewType("Html", str)  # markup; comes from `text`, `tag` and `joined` alone

_BLANKS = re.compile(r"\s+")
_HEAD = (
    '<meta charset="utf-8">\n'
    '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
    '<meta http-equiv="Content-Security-Policy" '
    "content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
)
BASE_STYLE = """
* { box-sizing: border-box; }
html { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { color: #000; background: #fff; font-family: Arial, "Liberation Sans", Helvetica, sans-serif;
  margin: 0; overflow-wrap: anywhere; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; }
ul { margin: 0; padding: 0; list-style: none; }
abbr { text-decoration: none; }
"""


def text(value: str) -> Html:
    """A text on one line, escaped; characters that do not show are left out."""
    flat = _BLANKS.sub(" ", value)
    return Html(html.escape(shown(flat)))


def tag(name: str, *content: Html, **attributes: str) -> Html:
    """An element around its content; `class_` is the attribute `class`."""
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{text(value)}"' for key, value in attributes.items()
    )
    return Html(f"<{name}{written}>{''.join(content)}</{name}>")


def joined(parts: Iterable[Html], between: str = "") -> Html:
    """Pieces of markup in a row, with a text between them."""
    return Html(html.escape(between).join(parts))


def page(title: str, style: str, *body: Html) -> str:
    """A whole document; `style` is CSS of our own."""
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n{_HEAD}{tag("title", text(title))}\n'
        f"<style>{BASE_STYLE}{style}</style>\n</head>\n"
        f"{tag('body', *body)}\n</html>\n"
    )


def day_text(day: date) -> str:
    """A day as a wall calendar has it, like `Fri 4 Dec`."""
    return f"{day:%a} {short_day(day)}"


def short_day(day: date) -> str:
    """Day and month, like `4 Dec`."""
    return f"{day.day} {day:%b}"
