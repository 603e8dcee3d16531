"""The README is true: its stories run word for word, and it names every command."""

import sys
from pathlib import Path

import pytest

from pmtrack.cli.commands import COMMANDS
from pmtrack.publishing.credentials import PASSWORD, USER
from tests.publishing.loopback import radicale
from tests.readme_console import README, agrees, path_with, run, shell_blocks, stories


@pytest.mark.long
def test_the_three_stories_run_word_for_word(tmp_path: Path) -> None:
    told = stories(README.read_text())
    program = Path(sys.executable).parent / "pmtrack"
    server, home = tmp_path / "server", tmp_path / "home"
    server.mkdir()
    home.mkdir()
    with radicale(server, "dana:story\n") as port:
        settings = {
            "CALENDAR": f"http://127.0.0.1:{port}/dana/maintenance/",
            USER: "dana",
            PASSWORD: "story",
        }
        commands = [story.command for story in told]
        printed = run(commands, home, path_with(program), settings)
    for story, lines in zip(told, printed, strict=True):
        shown = "\n".join([f"$ {story.command}", *lines])
        assert agrees(story.output, lines), f"now it prints:\n{shown}"


@pytest.mark.parametrize(
    ("told", "printed", "agree"),
    [
        (["a", "b"], ["a", "b"], True),
        (["a", "b"], ["a", "c"], False),
        (["a"], ["a", "b"], False),
        (["a", "..."], ["a", "b", "c"], True),
        (["...", "c"], ["a", "b", "c"], True),
        (["a", "...", "c"], ["a", "b", "b", "c"], True),
        (["a", "...", "c"], ["a", "b", "b"], False),
        (["..."], [], True),
        ([], [], True),
        ([], ["a"], False),
    ],
)
def test_dots_stand_for_any_lines(told: list[str], printed: list[str], agree: bool) -> None:
    assert agrees(told, printed) is agree


def test_two_commands_do_all_set_up() -> None:
    """The first shows the demo, the second passes the tests; each makes its own environment."""
    demo, tests = shell_blocks(README.read_text())
    assert demo.startswith("python3 -m venv .venv && ")
    assert demo.endswith("pmtrack demo")
    assert tests.startswith("python3 -m venv .venv && ")
    assert "-m pytest" in tests


def test_every_command_is_in_the_readme() -> None:
    text = README.read_text()
    assert [name for name in COMMANDS if f"`{name}`" not in text] == []
