"""A picture and a print of an HTML sheet, made by headless Chromium; run by hand.

    python tests/pictures/print_sheet.py SHEET.html OUT_DIR [PROGRAM]

PROGRAM is the browser, `chromium` if left out. The picture is SHEET.png, the print SHEET.pdf.
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-pdf-header-footer",
)
WINDOW = "1280,1800"
PATIENCE = 120  # seconds for one call of the browser
_PAGE = re.compile(rb"/Type\s*/Page(?![A-Za-z])")


def main(arguments: list[str]) -> int:
    """Make both, and tell where they are and how many pages the print has."""
    if len(arguments) not in (2, 3):
        print(__doc__, file=sys.stderr)
        return 2
    sheet, folder = Path(arguments[0]).resolve(), Path(arguments[1]).resolve()
    program = arguments[2] if len(arguments) == 3 else "chromium"
    folder.mkdir(parents=True, exist_ok=True)
    picture, printed = folder / f"{sheet.stem}.png", folder / f"{sheet.stem}.pdf"
    browse(program, sheet, f"--screenshot={picture}", f"--window-size={WINDOW}")
    browse(program, sheet, f"--print-to-pdf={printed}")
    print(picture)
    print(f"{printed}: {pages(printed)} pages")
    return 0


def browse(program: str, sheet: Path, *wanted: str) -> None:
    """Open the sheet in a browser that knows nothing from before. Raises where it fails."""
    with tempfile.TemporaryDirectory() as profile:
        command = [program, *QUIET, f"--user-data-dir={profile}", *wanted, sheet.as_uri()]
        subprocess.run(command, check=True, capture_output=True, timeout=PATIENCE)


def pages(printed: Path) -> int:
    """How many pages a PDF has, counted by its page objects."""
    return len(_PAGE.findall(printed.read_bytes()))


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
