"""The values of a document against the model, each fault in a sentence of our own."""

from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from pmtrack.rules.quantity import shorten
from pmtrack.shopfile.fault import Finding, Loc, listed, nearest
from pmtrack.shopfile.model import ShopFile

# What to write for a required key.
_REQUIRED = {
    "shop": "shop: with name, timezone and shifts below it",
    "name": "name: and what people call it",
    "timezone": "timezone: America/New_York or the like",
    "shifts": 'shifts: [{name: day, days: mon-fri, start: "06:00", end: "14:30"}] or the like',
    "days": "days: mon-fri or the like",
    "start": 'start: "06:00" or the like',
    "end": 'end: "14:30" or the like',
    "code": "code: and a short code of its own",
    "machines": "machines: [TP-1] or the like",
    "title": "title: and what is to be done",
    "on": "on: 2026-01-05 or the like",
    "part": "part: and what to bring",
    "machine": "machine: TP-1 or the like",
    "sharpen_every": "sharpen_every: 60000 or the like",
    "hits": "hits: {RD-10: 14} or the like",
}


def check_model(data: dict[str, Any]) -> tuple[ShopFile | None, list[Finding]]:
    """The file as models, or everything that is wrong in its single values."""
    try:
        return ShopFile.model_validate(data), []
    except ValidationError as error:
        return None, [_finding(detail) for detail in error.errors(include_url=False)]


def _finding(detail: ErrorDetails) -> Finding:
    loc = tuple(part for part in detail["loc"] if part != "[key]")
    return loc, _sentence(detail, loc)


def _sentence(detail: ErrorDetails, loc: Loc) -> str:
    kind, value = detail["type"], detail["input"]
    if kind == "missing":
        return f"is missing; write {_REQUIRED[str(loc[-1])]}"
    if kind == "extra_forbidden":
        return _unknown_key(str(loc[-1]), loc[:-1])
    if kind == "value_error":
        return str(detail["ctx"]["error"])
    if kind == "list_type":
        return _no_list(value, str(loc[-1]))
    return _no_mapping(value, _keys(loc) if kind == "model_type" else [])


def _unknown_key(key: str, holder: Loc) -> str:
    known = _keys(holder)
    near = nearest(key, known)
    mend = f"write {near}" if near else f"write one of {', '.join(known)}"
    return f"is no key here; {mend}"


def _no_list(value: object, key: str) -> str:
    if value is None:
        return f"is empty; write {_REQUIRED.get(key, 'a list, or leave the key out')}"
    example = f"[{shorten(value)}], or " if isinstance(value, str) else ""
    return f"is no list; write {example}each entry after a dash"


def _no_mapping(value: object, keys: list[str]) -> str:
    told = "is empty" if value is None else "holds no keys"
    if len(keys) == 1:
        return f"{told}; write {keys[0]} with its value"
    return f"{told}; write {listed(keys) or 'names'}, each with its value"


def _keys(loc: Loc) -> list[str]:
    """The keys that the section at a location may hold; none where they are free."""
    model: type[BaseModel] = ShopFile
    keys: list[str] = list(model.model_fields)
    for part in (part for part in loc if isinstance(part, str)):
        fields = {field.alias or name: field for name, field in model.model_fields.items()}
        if part in fields:
            model = _held(fields[part].annotation) or model
        keys = [field.alias or name for name, field in model.model_fields.items()]
    return keys


def _held(annotation: object) -> type[BaseModel] | None:
    """The model inside a type like `list[Model] | None`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((held for arg in get_args(annotation) if (held := _held(arg))), None)
