"""A figure of the bench: what was measured against a floor of the same run; processes are timed."""

import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

NOW = "2026-11-25T06:05"  # a Wednesday, before the day shift
TODAY = "2026-11-25"
_LOADED = (
    "import json, sys; sys.argv = ['pmtrack', *json.loads(sys.argv[1])]\n"
    "from pmtrack.cli import main\n"
    "main()\n"
    "print(json.dumps([name for name in sys.modules if name != '__main__']), file=sys.stderr)"
)
IMPORTS = (
    "import importlib, json, sys\n"
    "for name in json.loads(sys.argv[1]):\n"
    "    try: importlib.import_module(name)\n"
    "    except ImportError: pass\n"
)
# compiled modules are kept, as they are wherever pmtrack is installed
_ENVIRONMENT = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
# started by a small process: a child's peak is at least the memory of what it was forked from
_PEAK = (
    "import json, resource, subprocess, sys, time\n"
    "start = time.perf_counter()\n"
    "subprocess.run(sys.argv[1:], check=True, stdout=subprocess.DEVNULL)\n"
    "peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss\n"
    "print(json.dumps([time.perf_counter() - start, peak]))\n"
)


@dataclass(frozen=True)
class Figure:
    """Seconds measured and those of the floor; at most `limit` floors are wanted."""

    name: str
    measured: float
    floor: float
    limit: float
    remark: str = ""

    @property
    def ratio(self) -> float:
        """How many floors it took."""
        return self.measured / self.floor

    def line(self) -> str:
        """The figure as a line of the table."""
        told = "ok" if self.ratio <= self.limit else "over"
        return (
            f"{self.name:30} {_shown(self.measured):>10} {_shown(self.floor):>10} "
            f"{self.ratio:7.2f} {self.limit:6.2f}  {told:5} {self.remark}"
        ).rstrip()


HEADER = f"{'':30} {'measured':>10} {'floor':>10} {'ratio':>7} {'limit':>6}"


def _shown(seconds: float) -> str:
    return f"{1000 * seconds:.1f} ms" if seconds < 1 else f"{seconds:.2f} s"


def pmtrack(store: Path, *arguments: str) -> list[str]:
    """The command line of one command on a store, at the bench's own instant."""
    return [sys.executable, "-m", "pmtrack", "--store", str(store), "--now", NOW, *arguments]


def python(code: str, *arguments: str) -> list[str]:
    """The command line of a fresh interpreter that runs some code."""
    return [sys.executable, "-c", code, *arguments]


def run(command: Sequence[str]) -> str:
    """What a command prints; `today` ends with status 4 where jobs are overdue."""
    done = subprocess.run(command, capture_output=True, text=True, env=_ENVIRONMENT)
    if done.returncode not in (0, 4):
        raise RuntimeError(f"{' '.join(command)[:200]}: {done.returncode}\n{done.stderr[-2000:]}")
    return done.stdout


def seconds(command: Sequence[str]) -> float:
    """Wall time of one run of a command."""
    start = time.perf_counter()
    run(command)
    return time.perf_counter() - start


def seconds_of(work: Callable[[], object]) -> float:
    """Wall time of one call."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def in_turn(
    mine: Callable[[int], float], floor: Callable[[int], float], rounds: int
) -> tuple[float, float]:
    """Medians of both, measured in turn after one unmeasured round each; numbered from 0."""
    pairs = [(mine(number), floor(number)) for number in range(rounds + 1)][1:]
    first, second = (statistics.median(times) for times in zip(*pairs, strict=True))
    return first, second


def loaded(store: Path, *arguments: str, own: bool = True) -> str:
    """The modules that a command loads, as JSON; without `own`, those of pmtrack are left out."""
    told = json.dumps(["--store", str(store), "--now", NOW, *arguments])
    done = subprocess.run(python(_LOADED, told), capture_output=True, text=True, check=True)
    names = json.loads(done.stderr.splitlines()[-1])
    return json.dumps([n for n in names if own or n.split(".")[0] != "pmtrack"])


def peak_megabytes(command: Sequence[str]) -> tuple[float, float]:
    """Wall time of a command and the most memory that it held, in MB."""
    took, peak = json.loads(run(python(_PEAK, *command)))
    return took, peak / 1024
