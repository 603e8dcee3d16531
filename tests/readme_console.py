"""The console blocks of the README: their commands, run in one shell, and what they print."""

import os
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
ANY_LINES = "..."
_MARK = "=-=-="


@dataclass(frozen=True)
class Told:
    """A command of the README and the output that follows it there."""

    command: str
    output: list[str]


def stories(text: str) -> list[Told]:
    """The commands of all console blocks, in order. A line that ends in a backslash goes on."""
    told: list[Told] = []
    for block in re.findall(r"^```console\n(.*?)^```", text, re.MULTILINE | re.DOTALL):
        for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            lines = part.rstrip("\n").split("\n")
            length = next(i for i, line in enumerate(lines) if not line.endswith("\\")) + 1
            told.append(Told("\n".join(lines[:length]), lines[length:]))
    return told


def shell_blocks(text: str) -> list[str]:
    """The commands of the README's `sh` blocks."""
    return [b.strip() for b in re.findall(r"^```sh\n(.*?)^```", text, re.MULTILINE | re.DOTALL)]


def run(commands: list[str], folder: Path, path: str, settings: dict[str, str]) -> list[list[str]]:
    """Run the commands in one shell, in a folder; the lines that each one prints.

    `settings` are further variables of the environment.
    """
    script = "".join(f"{command}\nprintf '{_MARK}\\n'\n" for command in commands)
    done = subprocess.run(
        ["bash", "-c", script],
        cwd=folder,
        env={"PATH": path, "HOME": str(folder), "LANG": "C.UTF-8", "TZ": "UTC"} | settings,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=True,
    )
    *parts, rest = done.stdout.split(f"{_MARK}\n")
    assert rest == ""
    return [part.split("\n")[:-1] for part in parts]


def agrees(told: list[str], printed: list[str]) -> bool:
    """Whether the output is word for word what is told; `...` stands for any lines."""
    pattern = "\n".join(
        r"(?:.*\n)*?.*" if line.strip() == ANY_LINES else re.escape(line) for line in told
    )
    return re.fullmatch(pattern, "\n".join(printed)) is not None


def path_with(program: Path) -> str:
    """PATH with the folder of `program` first."""
    return f"{program.parent}{os.pathsep}{os.environ['PATH']}"
