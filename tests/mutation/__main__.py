"""`python -m tests.mutation`: how many changes of the rules the tests notice.

Seeds and samples are fixed, so that the same tests give the same score.
"""

import argparse
import random
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from tests.mutation.changes import Change, changes
from tests.mutation.equivalent import EQUIVALENT
from tests.mutation.trial import reach, trials

RULES = Path(__file__).parents[2] / "pmtrack" / "rules"
TESTS = Path(__file__).parents[1] / "rules"
LEAST = 0.9  # of the changes are to be noticed
SHORT = ("workdays", "windows", "usage", "calendar_due", "plan_steps")  # where a slip costs most


@dataclass(frozen=True)
class Ask:
    """What to try: modules, how many changes of each (None: all), the seed, processes at a time.

    `own` asks the tests of the same names alone.
    """

    modules: tuple[str, ...]
    sample: int | None = None
    seed: int = 0
    workers: int = 2
    own: bool = False

    @property
    def tests(self) -> list[str]:
        """Where the tests to be asked are."""
        return (
            [f"{TESTS}/test_{module}.py" for module in self.modules] if self.own else [f"{TESTS}"]
        )

    def chosen(self) -> Iterator[tuple[str, str, Change]]:
        """The changes to try: each with its module and the source of that."""
        for module in self.modules:
            source = (RULES / f"{module}.py").read_text("utf-8")
            lines = [line.strip() for line in source.splitlines()]
            found = [
                change
                for change in changes(source)
                if (module, lines[change.first - 1], change.before, change.after) not in EQUIVALENT
            ]
            if self.sample is not None and self.sample < len(found):
                places = random.Random(f"{self.seed} {module}").sample(
                    range(len(found)), self.sample
                )
                found = [found[at] for at in sorted(places)]
            yield from ((module, source, change) for change in found)


@dataclass
class Trial:
    """A pytest plugin that tries changes in place of running the tests once."""

    ask: Ask
    noticed: Counter[str] = field(default_factory=Counter)
    tried: Counter[str] = field(default_factory=Counter)
    left: list[str] = field(default_factory=list)

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        """Laws are tried with the same cases each time; a failure needs no smaller example."""
        from hypothesis import HealthCheck, Phase, settings  # pytest wants to load it first

        settings.register_profile(
            "trial",
            derandomize=True,
            database=None,
            deadline=None,
            max_examples=40,
            phases=(Phase.explicit, Phase.generate),
            suppress_health_check=list(HealthCheck),
        )
        settings.load_profile("trial")

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Runs the tests once to see what they reach, then tries each change."""
        chosen = list(self.ask.chosen())
        found = reach(session.items, RULES, self.ask.workers)
        by_name = {item.nodeid: item for item in session.items}
        tests = [found.of(module, change) for module, _, change in chosen]
        asked = [
            (f"pmtrack.rules.{module}", source, change, [by_name[name] for name in names])
            for (module, source, change), names in zip(chosen, tests, strict=True)
        ]
        self.tried = Counter(module for module, _, _ in chosen)
        for place, noticed in trials(asked, self.ask.workers):
            module, _, change = chosen[place]
            self.noticed[module] += noticed
            if not noticed:
                where = f"pmtrack/rules/{module}.py:{change.first}"
                told = f"{change.before}  ->  {change.after}  ({len(tests[place])} tests)"
                self.left.append(f"{where}: {told}")
                print(self.left[-1], file=sys.stderr, flush=True)
        return True

    @property
    def score(self) -> float:
        """The share of the changes that a test noticed."""
        return self.noticed.total() / max(self.tried.total(), 1)


def trial(ask: Ask) -> Trial:
    """Tries changes on the rules; prints what was noticed of each module, and what was not."""
    found = Trial(ask)
    options = ["-q", "-p", "no:randomly", "-p", "no:cacheprovider", "-n0", "--no-header"]
    pytest.main([*options, *ask.tests], plugins=[found])
    for module, tried in sorted(found.tried.items()):
        print(f"{module:16} {found.noticed[module]:5} of {tried:5}")
    print("not noticed:", *(sorted(found.left) or ["none"]), sep="\n  ")
    all_in_all = f"{found.noticed.total()} of {found.tried.total()} changes noticed"
    print(f"{all_in_all}: {found.score:.1%}, at least {LEAST:.0%} wanted")
    return found


def main(arguments: Sequence[str]) -> int:
    """Exit status 1 where too few changes are noticed."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--sample", type=int, help="so many changes of each module, not all")
    parser.add_argument("--seed", type=int, default=0, help="of the sample")
    parser.add_argument("--only", action="append", metavar="MODULE", help="this module alone")
    parser.add_argument("--short", action="store_true", help="a few changes, in under a minute")
    parser.add_argument("--workers", type=int, default=2, help="processes at a time")
    told = parser.parse_args(arguments)
    every = sorted(path.stem for path in RULES.glob("*.py") if path.stem != "__init__")
    modules = tuple(told.only or every)
    if told.short:
        return short(told.seed)
    return int(trial(Ask(modules, told.sample, told.seed, told.workers)).score < LEAST)


def short(seed: int = 0) -> int:
    """A few changes where a slip costs most, in under a minute; 1 where too few are noticed."""
    return int(trial(Ask(SHORT, sample=12, seed=seed, own=True)).score < LEAST)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
