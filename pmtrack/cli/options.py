"""Options that several commands share, with their help."""

from typing import Annotated

import typer

By = Annotated[
    str | None,
    typer.Option("--by", help="Who records it; else PMTRACK_BY, else the login name."),
]
At = Annotated[
    str | None,
    typer.Option("--at", help="When it happened, like 2026-11-25T14:05; now if left out."),
]
On = Annotated[
    str | None,
    typer.Option("--on", help="As of the end of that date, like 2026-11-25; today if left out."),
]
Json = Annotated[bool, typer.Option("--json", help="Answer as JSON, for scripts.")]
Note = Annotated[str, typer.Option("--note", help="A remark to keep with the entry.")]
Readings = Annotated[
    list[str] | None, typer.Option("--dial", help="A counter read, like hits=1204350.")
]
Wrapped = Annotated[
    list[str] | None, typer.Option("--wrapped", help="The counter of that meter started over.")
]
Exchanged = Annotated[
    list[str] | None, typer.Option("--exchanged", help="A new counter was fitted on that meter.")
]
