"""Puts a changed module in place of the loaded one, in this process only."""

import ast
import sys
from functools import cached_property
from types import FunctionType, ModuleType


def swap(module: ModuleType, changed: ast.Module) -> None:
    """Functions get the code of the changed ones, where they are; constants go wherever they are.

    So it holds in all modules that have imported something of this one.
    """
    made: dict[str, object] = {"__name__": module.__name__}
    exec(compile(changed, vars(module).get("__file__", "changed"), "exec"), made)  # noqa: S102 - our own source
    for name, new in made.items():
        old = vars(module).get(name)
        if name.startswith("__") or _is_import(new, module):
            continue
        if isinstance(new, type) and isinstance(old, type):
            _swap_class(old, new)
        elif not _swap_function(old, new) and old != new:
            _swap_constant(name, old, new)


def _is_import(value: object, module: ModuleType) -> bool:
    if isinstance(value, (type, FunctionType)):
        return value.__module__ != module.__name__
    return isinstance(value, ModuleType)


def _swap_class(old: type, new: type) -> None:
    for name, value in list(vars(new).items()):
        before = vars(old).get(name)
        plain = isinstance(value, (bool, int, float)) and not name.startswith("__")
        if not _swap_function(before, value) and plain and before != value:
            setattr(old, name, value)


def _swap_function(old: object, new: object) -> bool:
    """Whether it was a function, a property or the like; if so, it now does as the new one does."""
    if isinstance(old, property) and isinstance(new, property):
        return _swap_function(old.fget, new.fget)
    if isinstance(old, cached_property) and isinstance(new, cached_property):
        return _swap_function(old.func, new.func)
    if isinstance(old, (classmethod, staticmethod)) and isinstance(new, type(old)):
        return _swap_function(old.__func__, new.__func__)
    if isinstance(old, FunctionType) and isinstance(new, FunctionType):
        old.__code__ = new.__code__
        old.__defaults__ = new.__defaults__
        old.__kwdefaults__ = new.__kwdefaults__
        return True
    return False


def _swap_constant(name: str, old: object, new: object) -> None:
    for other in list(sys.modules.values()):
        if vars(other).get(name) is old and other.__name__.startswith(("pmtrack.", "tests.")):
            setattr(other, name, new)
