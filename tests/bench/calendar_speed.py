"""How long a calendar of many jobs takes against the library's own writing of it."""

from pathlib import Path

from tests.bench.big_shop import Size, described, shop_text
from tests.bench.figure import IMPORTS, Figure, loaded, pmtrack, python, run, seconds

_WRITE = (
    IMPORTS + "import time; from pathlib import Path; from icalendar import Calendar\n"
    "calendar = Calendar.from_ical(Path(sys.argv[2]).read_bytes())\n"
    "start = time.perf_counter(); calendar.to_ical(); print(time.perf_counter() - start)"
)
# the file alone: the entries as kept by the command, written once more
_FILE = (
    IMPORTS + "import time; from pathlib import Path\n"
    "from pmtrack.exports.icalendar_file import calendar_file\n"
    "from pmtrack.store import open_store; from pmtrack.store.exports import last_export\n"
    "entries = last_export(open_store(Path(sys.argv[2])), '2027-Q1')\n"
    "start = time.perf_counter(); calendar_file('Jobs', 'a', entries)\n"
    "print(time.perf_counter() - start)"
)
ROUTINES = tuple((f"quarterly-{number}", "3 months") for number in range(10))


def calendar_figures(folder: Path, scale: float) -> list[Figure]:
    """A quarter of 20,000 jobs, or a share of them: the whole command, and the file alone."""
    store, out = folder / "calendar.db", folder / "q1.ics"
    described(store, shop_text(Size.scaled(scale).codes, ROUTINES))
    command = pmtrack(store, "calendar", "2027-Q1", "--out", str(out))
    measured = seconds(command)
    events = out.read_bytes().count(b"BEGIN:VEVENT")
    modules = loaded(store, "calendar", "2027-Q1", "--out", str(out))
    written = float(run(python(_WRITE, modules, str(out))))
    file = float(run(python(_FILE, modules, str(store))))
    return [
        Figure("calendar, the command", measured, written, 1.5, f"{events:,} events"),
        Figure("calendar, the file of it", file, written, 1.5),
    ]
