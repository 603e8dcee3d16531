"""One target under the coverage-guided fuzzer: python -m tests.fuzz.one_target NAME FOLDER SECONDS.

Faults go into FOLDER/faults, one file for each place in the code, with the input that led there;
figures go into FOLDER/figures.json as the run goes on, for the fuzzer ends the process itself.
"""

import gc
import importlib
import json
import pkgutil
import random
import sys
import time
import traceback
from pathlib import Path

import atheris

EVERY = 1.0  # seconds between two writings of the figures
SEEDS = 4  # inputs to begin with, for each second; the fuzzer tries all of them first


def _product() -> None:
    """Import all of the product with coverage counted; what it imports later is not counted."""
    import pmtrack

    for found in pkgutil.walk_packages(pmtrack.__path__, "pmtrack."):
        if not found.name.endswith("__main__"):
            importlib.import_module(found.name)


class _Watch:
    """Tries inputs, keeps faults, and writes down how many."""

    def __init__(self, name: str, folder: Path, seconds: int) -> None:
        from tests.fuzz.targets import TARGETS

        (folder / "desk").mkdir()
        self.folder = folder
        self.target = TARGETS[name](folder / "desk")
        self.runs, self.began, self.told = 0, time.monotonic(), 0.0
        self.faults: set[str] = set()
        self.end = self.began + seconds

    def __call__(self, data: bytes) -> None:
        if time.monotonic() > self.end:
            return
        self.runs += 1
        try:
            self.target.attempt(data)
        except Exception as error:
            self._keep(data, error)
        if time.monotonic() - self.told > EVERY:
            self.write()

    def write(self) -> None:
        """Write the figures down."""
        gc.collect()  # warnings of what is left open come here, as faults
        self.told = time.monotonic()
        figures = {"runs": self.runs, "seconds": self.told - self.began, "faults": len(self.faults)}
        (self.folder / "figures.json").write_text(json.dumps(figures))

    def _keep(self, data: bytes, error: Exception) -> None:
        frames = traceback.extract_tb(error.__traceback__)
        ours = [frame for frame in frames if "pmtrack/" in frame.filename.replace("\\", "/")]
        last = (ours or frames)[-1]
        key = f"{Path(last.filename).stem}-{last.lineno}-{type(error).__name__}"
        if key in self.faults:
            return
        self.faults.add(key)
        kept = self.folder / "faults" / key
        kept.with_suffix(".bin").write_bytes(data)
        told = "".join(traceback.format_exception(error))
        kept.with_suffix(".txt").write_text(told, "utf-8", "backslashreplace")
        self.write()


def main() -> None:
    """Fuzz until the time is over."""
    name, folder, seconds = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3])
    with atheris.instrument_imports(include=["pmtrack"], enable_loader_override=False):
        _product()
    (folder / "seeds").mkdir(exist_ok=True)
    watch = _Watch(name, folder, seconds)
    seeds = watch.target.seeds()
    for number, seed in enumerate(random.Random(7).sample(seeds, min(len(seeds), SEEDS * seconds))):
        (folder / "seeds" / f"{number:04}").write_bytes(seed)
    atheris.Setup(
        [
            sys.argv[0], f"-max_total_time={seconds}", "-timeout=60", "-rss_limit_mb=2048",
            "-max_len=20000", "-seed=7", "-verbosity=0", f"-artifact_prefix={folder}/faults/",
            str(folder / "corpus"), str(folder / "seeds"),
        ],
        watch,
    )  # fmt: skip
    (folder / "corpus").mkdir(exist_ok=True)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
