"""Each target without its fuzzer: its seeds, and the same fixed changes of them at every run."""

import os
import random
from pathlib import Path

import pytest

from tests.fuzz.arguments import commands
from tests.fuzz.driver import Outcome
from tests.fuzz.judging import Target
from tests.fuzz.names import NAMES
from tests.fuzz.targets import TARGETS

CHEAP, DEAR = 60, 5  # inputs tried; a dear one runs several commands
TRIED = dict.fromkeys(("shop-bytes", "text-out"), CHEAP)


def test_every_target_is_kept_under_its_own_name() -> None:
    assert {vars(made)["name"]: made for made in TARGETS.values()} == TARGETS


def test_every_command_is_among_the_arguments_tried() -> None:
    assert {"done", "log", "plan", "import", "verify", "publish"} <= set(commands())


@pytest.mark.parametrize("name", NAMES)
def test_hostile_input_ends_with_a_status_and_a_sentence(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(os.environ, "HOME", str(tmp_path))
    desk = tmp_path / "desk"
    desk.mkdir()
    target = TARGETS[name](desk)
    chance = random.Random(7)
    seeds = target.seeds()
    for seed in chance.sample(seeds, min(len(seeds), TRIED.get(name, DEAR))):
        target.attempt(_changed(seed, chance))


def _changed(seed: bytes, chance: random.Random) -> bytes:
    """The seed with a byte changed or put between at a few places."""
    made = bytearray(seed)
    for _ in range(chance.randrange(4)):
        place = chance.randrange(len(made) + 1)
        made[place : place + chance.randrange(2)] = chance.randbytes(1)
    return bytes(made)


class _Broken:
    """A target that finds a fault in everything."""

    name = "broken"

    def seeds(self) -> list[bytes]:
        return [b"x"]

    def attempt(self, data: bytes) -> None:
        raise KeyError(data)


def test_a_fault_is_an_outcome_with_a_line() -> None:
    broken: Target = _Broken()
    with pytest.raises(KeyError):
        broken.attempt(broken.seeds()[0])
    told = Outcome("broken", 1200, 3.2, ("f/broken.bin",)).line()
    assert told == "broken             1,200 runs      3 s  1 faults\n    f/broken.bin"
