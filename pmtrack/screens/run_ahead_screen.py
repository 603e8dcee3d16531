"""A job before it starts: its tools and what to do first, for the eye and as JSON."""

from shlex import quote
from typing import Any

from rich.console import Console
from rich.text import Text

from pmtrack.actions.run_ahead import Preparation
from pmtrack.rules.quantity import show
from pmtrack.rules.run_ahead import RunAhead, ToolInRun
from pmtrack.rules.tool_events import STATION
from pmtrack.screens.terminal import STYLES, show_lines, table

READY = "ready: every tool is fitted and lasts the run"
CAUTION = (
    "Lock out and tag out before you reach in; tools are heavy and their edges sharp.\n"
    "Local codes and the maker's manual go before this."
)


def as_json(told: Preparation) -> dict[str, Any]:
    """The job as scripts read it."""
    run = told.run
    return {
        "program": run.program,
        "parts": run.parts,
        "material": run.material,
        "machine": run.machine,
        "hits": run.hits,
        "press_seconds": None if run.press_seconds is None else float(run.press_seconds),
        "tools": [_tool_json(tool) for tool in run.tools],
        "before": [{"do": deed.kind, "tool": deed.tool.code} for deed in run.before],
        "ready": run.ready,
        "out_of_service": told.out_of_service,
        "missing_logs": [{"shift": m.shift, "date": m.day} for m in told.missing],
    }


def _tool_json(tool: ToolInRun) -> dict[str, Any]:
    """`hits` and `wear_hits` are those of the run, `left` the wear hits left before it."""
    return {
        "tool": tool.code,
        "state": tool.wear.state,
        "hits": tool.hits,
        "wear_hits": tool.wear_hits,
        "station": tool.station,
        "fitted": tool.station is not None,
        "elsewhere": list(tool.elsewhere) if tool.elsewhere else None,
        "left": tool.left,
        "lasts_parts": tool.lasts_parts,
        "runs_out_at": tool.runs_out_at,
        "past_grace_at": tool.past_grace_at,
        "after": tool.after,
        "sharpen_first": tool.sharpen_first,
        "replace_first": tool.replace_first,
        "fresh_parts": tool.fresh_parts,
        "stop_after": tool.stop_after,
        "stops": tool.stops,
        "sharpenings_left": tool.wear.sharpenings_left,
        "short_of_sharpenings": tool.short_of,
        "order_by": tool.wear.order_by,
    }


def show_preparation(told: Preparation, console: Console) -> None:
    """Print the tools, what to do before the run and in it, and what to know."""
    run = told.run
    console.print(_head(run))
    console.print(_pace(run))
    _show_tools(run, console)
    show_lines(console, "Before the run, in this order", _steps(run))
    show_lines(console, "In the run", [_stop(tool) for tool in run.in_run])
    show_lines(console, "To know", _remarks(told))
    if run.ready:
        console.print(f"\n{READY}")
    elif run.before:
        console.print(f"\n{CAUTION}")


def _head(run: RunAhead) -> str:
    material = f" in {run.material}" if run.material else ""
    return f"{run.program}: {_parts(run.parts)}{material} on {run.machine}"


def _pace(run: RunAhead) -> str:
    hits = f"{show(run.hits)} hits"
    if run.press_seconds is None or run.fastest is None:
        return hits
    pace = f"{show(run.fastest.amount)} per {run.fastest.per}"
    return f"{hits}; at {pace} at least {_time(float(run.press_seconds))}, moves and loading aside"


def _time(seconds: float) -> str:
    """Hours and minutes, or seconds where it is short."""
    if seconds < 90:
        return f"{show(seconds, 0)} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    return f"{hours:,} h {minutes:02d} min" if hours else f"{minutes} min"


def _parts(number: int) -> str:
    return "1 part" if number == 1 else f"{number:,} parts"


def _show_tools(run: RunAhead, console: Console) -> None:
    made = table(
        "Tool", "Station", "Wear hits", "Left now", "Lasts parts", "After", "First",
        right=("Wear hits", "Left now", "Lasts parts"),
        fixed=("After",),
    )  # fmt: skip
    for tool in run.tools:
        made.add_row(
            tool.code,
            tool.station or "-",
            show(tool.wear_hits, 0),
            show(tool.left, 0),
            f"{tool.lasts_parts:,}",
            Text(tool.after, style=STYLES.get(tool.after, "")),
            _first(run, tool),
        )
    console.print(made)


def _first(run: RunAhead, tool: ToolInRun) -> str:
    return ", ".join(deed.kind for deed in run.before if deed.tool is tool)


def _steps(run: RunAhead) -> list[str]:
    """Each deed with the command that records it, on a line of its own."""
    lines = []
    for number, deed in enumerate(run.before, start=1):
        what, command = _DEEDS[deed.kind](deed.tool)
        lines += [f"{number}. {what}", f"   pmtrack {command}"]
    return lines


def _replace(tool: ToolInRun) -> tuple[str, str]:
    why = "it is scrapped" if tool.scrapped else f"nothing is left to grind, {_out(tool)}"
    return f"put in a new {tool.code}: {why}", f"replace {tool.code}"


def _sharpen(tool: ToolInRun) -> tuple[str, str]:
    mm = show(tool.wear.tool.grind, 3) if tool.wear.tool.grind else "N"
    command = f"sharpen {tool.code} --mm {mm} --why planned"
    return f"sharpen {tool.code}: {_out(tool)}", command


def _take_out(tool: ToolInRun) -> tuple[str, str]:
    machine, station = tool.elsewhere or ("", "")
    return f"take {tool.code} out of {station} of {machine}", f"takeout {tool.code}"


def _fit(tool: ToolInRun) -> tuple[str, str]:
    other = "" if tool.wear.tool.machine == tool.machine else f" --machine {tool.machine}"
    station = quote(tool.last_station or STATION)
    return f"fit {tool.code}", f"fit {tool.code} --station {station}{other}"


_DEEDS = {"replace": _replace, "sharpen": _sharpen, "takeout": _take_out, "fit": _fit}


def _out(tool: ToolInRun) -> str:
    """At which part it is used up."""
    if not tool.lasts_parts and tool.runs_out_at:
        told = "worn out already" if not tool.left else "it does not last one part"
    else:
        told = f"it runs out at part {tool.runs_out_at or 0:,}"
    if tool.past_grace_at and tool.past_grace_at > 1:
        return f"{told}, past its grace at part {tool.past_grace_at:,}"
    return told


def _stop(tool: ToolInRun) -> str:
    what = "sharpen" if tool.wear.tool.is_ground else "replace"
    if not tool.fresh_parts:
        return f"{tool.code} does not last one part: a part takes more than its interval"
    often = ""
    if tool.stops and tool.stops > 1:
        often = f", then every {_parts(tool.fresh_parts)}: {tool.stops:,} times in all"
    return f"{what} {tool.code} after part {tool.stop_after or 0:,}{often}"


def _remarks(told: Preparation) -> list[str]:
    run = told.run
    lines = [line for tool in run.tools for line in _of_tool(tool)]
    if any(deed.kind == "fit" for deed in run.before):
        lines.append(
            f"Which stations of {run.machine} are free or fit the tool's size is not known here; "
            "another tool may have to come out."
        )
    if told.out_of_service:
        lines.append(f"{run.machine} is out of service.")
    if told.missing:
        shifts = ", ".join(f"{m.shift} of {m.day}" for m in told.missing)
        lines.append(f"No log of {shifts}: the tools may be worn further than is known.")
    return lines


def _of_tool(tool: ToolInRun) -> list[str]:
    left, by = tool.wear.sharpenings_left, tool.wear.order_by
    if tool.short_of:
        return [
            f"{tool.code} has {_sharpenings(left)} left, fewer than the run takes: have a new one "
            "at hand."
        ]
    if tool.is_last_life:
        when = "" if by is None else f" by {by}" if by >= tool.wear.as_of else " at once"
        return [f"{tool.code} lasts, but cannot be sharpened again after: order a new one{when}."]
    return []


def _sharpenings(left: int | None) -> str:
    return "1 sharpening" if left == 1 else f"{left or 'no'} sharpenings"
