"""The terminal: one console, plain when piped, tables that fit 80 columns, never colour alone."""

import io
import os
import re
import sys
from collections.abc import Iterator, Sequence
from datetime import date
from textwrap import wrap

from rich.console import Console, ConsoleOptions, RenderableType
from rich.segment import Segment
from rich.table import Table

from pmtrack.rules.text import printable

WIDTH = 80
NARROWEST = 40
STYLES = {
    "overdue": "bold red",
    "due": "bold yellow",
    "soon": "cyan",
    "deferred": "dim",
    "paused": "dim",
    "retired": "dim",
}


class _Harmless(Console):
    """A console on which no text steers the terminal, whatever the store holds."""

    def render(
        self, renderable: RenderableType, options: ConsoleOptions | None = None
    ) -> Iterator[Segment]:
        """Pieces of text, of which only those of the console itself may steer."""
        for piece in super().render(renderable, options):
            yield piece if piece.control else piece._replace(text=printable(piece.text))


class _Trimmed(io.TextIOBase):
    """Standard output without the blanks that fill a table's last column."""

    def write(self, text: str) -> int:
        sys.stdout.write(re.sub(r" +$", "", text, flags=re.MULTILINE))
        return len(text)

    def isatty(self) -> bool:
        return sys.stdout.isatty()

    @property
    def encoding(self) -> str:  # type: ignore[override]
        return sys.stdout.encoding


def console() -> Console:
    """The console for answers. Names are shown as typed: no markup, no guessing of colours."""
    if sys.stdout.isatty() and "NO_COLOR" not in os.environ:
        return _Harmless(markup=False, highlight=False, emoji=False)
    return _Harmless(
        file=_Trimmed(),  # type: ignore[arg-type]
        markup=False,
        highlight=False,
        emoji=False,
        width=_width(),
        color_system=None,
        force_terminal=False,
        no_color=True,
    )


def _width() -> int | None:
    """How wide plain text may be: COLUMNS if it makes sense, else a terminal's own width, or 80."""
    columns = os.environ.get("COLUMNS", "")
    if columns.isdecimal() and int(columns) >= NARROWEST:
        return int(columns)
    return None if sys.stdout.isatty() else WIDTH


def table(*columns: str, right: Sequence[str] = (), fixed: Sequence[str] = ()) -> Table:
    """An aligned table without frames; numbers to the right, `fixed` columns on one line."""
    made = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="bold")
    for column in columns:
        made.add_column(
            column,
            justify="right" if column in right else "left",
            no_wrap=column in fixed or column in right,
            overflow="fold",
        )
    return made


def show_lines(to: Console, title: str, lines: Sequence[str]) -> None:
    """Print a titled list; long lines go on under themselves."""
    if not lines:
        return
    to.print(f"\n{title}", style="bold")
    for line in lines:
        indent = " " * (4 + len(line) - len(line.lstrip()))
        told = wrap(
            line,
            to.width,
            initial_indent="  ",
            subsequent_indent=indent,
            break_on_hyphens=False,
        )
        for part in told:
            to.print(part)


def bar(share: float, width: int) -> str:
    """A bar of `width` places, filled to a share from 0 to 1; of characters any terminal has."""
    filled = round(max(0.0, min(share, 1.0)) * width)
    return "#" * filled + "." * (width - filled)


def short_date(day: date, today: date) -> str:
    """A date for a table: Fri 20 Nov; with the year when it is another than today's."""
    year = "" if day.year == today.year else f" {day.year}"
    return f"{day:%a} {day.day:2d} {day:%b}{year}"
