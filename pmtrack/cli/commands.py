"""All commands: which function is which; a command is made ready when it is asked for.

Making all of them ready would take a third of the time of a daily command.
"""

from importlib import import_module
from typing import Any

import typer
from typer.core import TyperGroup
from typer.main import get_command

COMMANDS = {  # in the order of the help
    "demo": "setup.demo",
    "sample": "setup.sample",
    "check": "setup.check",
    "apply": "setup.apply",
    "today": "technician.today",
    "why": "technician.why",
    "done": "technician.done",
    "job": "technician.job",
    "defer": "technician.defer",
    "idle": "technician.idle",
    "back": "technician.back",
    "usage": "technician.usage",
    "log": "operator.log",
    "stop": "operator.stop",
    "restart": "operator.restart",
    "entries": "operator.entries",
    "void": "operator.void",
    "tooling": "toolroom.tooling",
    "life": "tool_lives.life",
    "setup": "run_ahead.setup",
    "sharpen": "toolroom.sharpen",
    "fit": "toolroom.fit",
    "takeout": "toolroom.takeout",
    "replace": "toolroom.replace",
    "scrap": "toolroom.scrap",
    "plan": "planner.plan",
    "pin": "planner.pin",
    "release": "planner.release",
    "sheet": "planner.sheet",
    "cards": "planner.cards",
    "publish": "planner.publish",
    "calendar": "manager.calendar",
    "report": "manager.report",
    "backtest": "backtest.backtest",
    "import": "manager.import_rows",
    "trend": "advising.trend",
    "advice": "advising.advice",
    "backup": "upkeep.backup",
    "restore": "upkeep.restore",
    "verify": "upkeep.verify",
    "unload": "upkeep.unload",
    "load": "upkeep.load",
}


class Commands(TyperGroup):
    """The commands of COMMANDS."""

    def list_commands(self, ctx: Any) -> list[str]:
        """The names, in the order of the help."""
        return list(COMMANDS)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """The command of that name, or None."""
        if cmd_name in COMMANDS and cmd_name not in self.commands:
            self.add_command(_ready(cmd_name))
        return self.commands.get(cmd_name)

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """The command that is meant; for an unknown one, the nearest of all is told."""
        if args[0] not in COMMANDS:
            for name in COMMANDS:
                self.get_command(ctx, name)
        return super().resolve_command(ctx, args)


def _ready(name: str) -> Any:
    module, function = COMMANDS[name].split(".")
    alone = typer.Typer(rich_markup_mode=None, add_completion=False)
    alone.command(name)(getattr(import_module(f"pmtrack.cli.{module}"), function))
    return get_command(alone)
