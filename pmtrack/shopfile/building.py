"""Values and lines put together from the events of the YAML parser, without recursion."""

from collections.abc import Callable
from typing import Any

import yaml

from pmtrack.rules.quantity import shorten
from pmtrack.shopfile.fault import Fault, Loc

Lines = dict[str | int | None, Any]  # a line for each scalar, Lines for the rest, its own at None

DEEPEST = 20
MOST_VALUES = 200_000

_PLAIN_WORDS = {"": None, "~": None, "null": None, "true": True, "false": False}
_OWN_TAGS = "tag:yaml.org,2002:"
_NO_KEY = ""  # stands for a key that is refused


class Stopped(Exception):
    """A fault after which reading on makes no sense."""

    def __init__(self, line: int, text: str) -> None:
        self.fault = Fault(line, (), text)


class _Frame:
    """A mapping or list being filled; `key` and `line` are those of the value to come."""

    __slots__ = ("into", "keep", "key", "line", "lines", "name")

    def __init__(self, name: str | int, into: Any, lines: Lines) -> None:
        self.name, self.into, self.lines = name, into, lines
        self.key: str | None = None
        self.keep, self.line = True, 0

    @property
    def wants_key(self) -> bool:
        return self.key is None and isinstance(self.into, dict)

    def put(self, value: Any, lines: Lines | int) -> None:
        """Take a value that ends up under the key, or at the end of the list."""
        if self.key is None:
            self.lines[len(self.into)] = lines
            self.into.append(value)
            return
        if self.keep:
            self.into[self.key] = value
            self.lines[self.key] = lines
        self.key = None


class Builder:
    """Puts values together from parser events, without recursion."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.broken: set[Loc] = set()
        self._root = _Frame("", [], {})
        self._stack = [self._root]
        self._values = 0
        self._handlers: dict[type, Callable[[Any], None]] = {
            yaml.ScalarEvent: self._scalar,
            yaml.MappingStartEvent: self._begin,
            yaml.SequenceStartEvent: self._begin,
            yaml.MappingEndEvent: self._end,
            yaml.SequenceEndEvent: self._end,
            yaml.AliasEvent: self._alias,
            yaml.DocumentStartEvent: self._document_start,
        }

    def take(self, event: Any) -> None:
        """The next event of the parser."""
        handler = self._handlers.get(type(event))
        if handler is not None:
            handler(event)

    def result(self) -> tuple[dict[str, Any], Lines] | None:
        """The top mapping with its lines, once all events are in; None with a fault otherwise."""
        data = self._root.into[0] if self._root.into else None
        if isinstance(data, dict) and data:
            return data, self._root.lines[0]
        if data is None or data == {}:
            told = "empty; describe the shop, beginning with shop:"
        else:
            told = "the top level is no mapping; begin with shop:, machines: and tasks:"
        self.faults.append(Fault(1, (), told))
        return None

    def _document_start(self, event: Any) -> None:
        if self._root.into:
            line = event.start_mark.line + 1
            raise Stopped(line, "a second document begins; keep one, without the line ---")

    def _scalar(self, event: Any) -> None:
        self._check(event)
        frame, line = self._stack[-1], event.start_mark.line + 1
        if frame.wants_key:
            self._key(frame, event, line)
            return
        value = event.value if event.style else _PLAIN_WORDS.get(event.value, event.value)
        frame.put(value, line if frame.key is None else frame.line)

    def _key(self, frame: _Frame, event: Any, line: int) -> None:
        frame.key, frame.keep, frame.line = event.value, True, line
        if event.value in frame.into:
            first = frame.lines[event.value]
            first = first if isinstance(first, int) else first[None]
            self._refuse_key(line, f"stands twice, first on line {first}; keep one")
        elif event.value == "<<" and not event.style:
            self._refuse_key(line, "a merge key is not taken; write the keys out")
        elif event.value == "":
            self._refuse_key(line, "a key is missing before the colon; write it")

    def _refuse_key(self, line: int, text: str) -> None:
        self._stack[-1].keep = False
        self._fault(line, text)

    def _begin(self, event: Any) -> None:
        self._check(event)
        if len(self._stack) > DEEPEST:
            line = event.start_mark.line + 1
            raise Stopped(line, f"nested over {DEEPEST} levels deep; the shop needs far fewer")
        frame, name, line = self._stack[-1], self._name(), event.start_mark.line + 1
        into: Any = {} if isinstance(event, yaml.MappingStartEvent) else []
        lines: Lines = {None: frame.line if frame.key is not None else line}
        if frame.wants_key:
            self._no_key(frame, line)
        else:
            frame.put(into, lines)
        self._stack.append(_Frame(name, into, lines))

    def _no_key(self, frame: _Frame, line: int) -> None:
        frame.key, frame.line = _NO_KEY, line
        self._refuse_key(line, "a list or mapping stands as a key; write a text as key")

    def _end(self, event: Any) -> None:
        self._stack.pop()

    def _alias(self, event: Any) -> None:
        line = event.start_mark.line + 1
        told = f"alias *{shorten(event.anchor)} is not taken; write the value out"
        frame = self._stack[-1]
        if frame.wants_key:
            frame.key, frame.line = _NO_KEY, line
            self._refuse_key(line, told)
            return
        self._fault(line, told)
        self.broken.add(self._loc())
        frame.put(None, line)

    def _check(self, event: Any) -> None:
        """What no value may be: one too many, tagged, anchored."""
        self._values += 1
        if self._values > MOST_VALUES:
            line = event.start_mark.line + 1
            raise Stopped(line, f"over {MOST_VALUES} values; split off what is no description")
        if event.tag is not None:
            tag = shorten(event.tag.replace(_OWN_TAGS, "!!"))
            told = f"tag {tag} is not taken; write the value without it, or in quotes"
            self._fault(event.start_mark.line + 1, told)
        if event.anchor is not None:
            told = f"anchor &{shorten(event.anchor)} is not taken; write the value without it"
            self._fault(event.start_mark.line + 1, told)

    def _name(self) -> str | int:
        frame = self._stack[-1]
        if isinstance(frame.into, list):
            return len(frame.into)
        return frame.key if frame.key is not None else _NO_KEY

    def _loc(self) -> Loc:
        """Where the value to come belongs; for a refused key, what holds it."""
        names = (*(frame.name for frame in self._stack[2:]), self._name())
        return tuple(n for n in names[: len(self._stack) - 1] if n != _NO_KEY)

    def _fault(self, line: int, text: str) -> None:
        self.faults.append(Fault(line, self._loc(), text))
