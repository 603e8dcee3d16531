"""What the shell offers when Tab is pressed: codes from the store."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from pmtrack.store.stored_shop import StoredShop


def _offer(
    codes: "Callable[[StoredShop], Iterable[str]]",
) -> Callable[[typer.Context, str], list[str]]:
    """Codes that begin with what is typed; nothing where there is no store to read."""

    def offered(context: typer.Context, incomplete: str) -> list[str]:
        from pmtrack.cli.session import Session
        from pmtrack.errors import PmtrackError

        session = context.obj or Session.of(context)
        try:
            with session.view() as (view, _):
                return [code for code in codes(view.stored) if code.startswith(incomplete)]
        except PmtrackError:
            return []

    return offered


Machine = Annotated[
    str,
    typer.Argument(
        help="Its code, like TP-1.",
        autocompletion=_offer(lambda stored: [m.code for m in stored.shop.machines]),
    ),
]
Task = Annotated[
    str,
    typer.Argument(
        help="Machine and task, like TP-1/monthly.",
        autocompletion=_offer(lambda stored: [t.name for t in (*stored.shop.tasks, *stored.jobs)]),
    ),
]
TaskOrTool = Annotated[
    str,
    typer.Argument(
        help="Machine and task, like TP-1/monthly, or a tool, like RD-10.",
        autocompletion=_offer(
            lambda stored: [
                *(t.name for t in (*stored.shop.tasks, *stored.jobs)),
                *(t.code for t in stored.shop.tools),
            ]
        ),
    ),
]
Tool = Annotated[
    str,
    typer.Argument(
        help="Its code, like RD-10.",
        autocompletion=_offer(lambda stored: [t.code for t in stored.shop.tools]),
    ),
]
Program = Annotated[
    str,
    typer.Argument(
        help="Its code, like KIOSK-DOOR.",
        autocompletion=_offer(lambda stored: [p.code for p in stored.shop.programs]),
    ),
]
