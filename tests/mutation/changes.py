"""The changes that a test should notice, made one at a time in the source of a module."""

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

_COMPARED: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
_WORKED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
}
_CALLED = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}


@dataclass(frozen=True)
class Change:
    """One place of a module changed: its lines, what stood there and what stands now.

    What is `loaded` runs as the module is loaded: a constant, a default. `place` is the number of
    the node in the module, `turn` the number of the change there.
    """

    first: int
    last: int
    before: str
    after: str
    loaded: bool
    place: int
    turn: int

    def made_in(self, source: str) -> ast.Module:
        """The module with this change."""
        tree = ast.parse(source)
        node = next(islice(_asked(tree), self.place, None))
        _put(tree, node, next(islice(_instead(node), self.turn, None)))
        return ast.fix_missing_locations(tree)


def changes(source: str) -> list[Change]:
    """All changes of a module, in the order of its text; annotations and words are left alone."""
    module = ast.parse(source)
    bodies = [n.body for n in ast.walk(module) if isinstance(n, ast.FunctionDef)]
    within = {id(part) for body in bodies for one in body for part in ast.walk(one)}
    found = []
    for place, node in enumerate(_asked(module)):
        last = node.end_lineno if isinstance(node, ast.expr) else None
        for turn, new in enumerate(_instead(node)):
            words = _told(node), _told(new), id(node) not in within
            found.append(Change(node.lineno, last or node.lineno, *words, place, turn))
    return found


def _told(node: ast.AST) -> str:
    """The first line of a node's source."""
    return ast.unparse(node).splitlines()[0]


def _asked(node: ast.AST) -> Iterator[ast.expr | ast.stmt]:
    """The expressions and statements that do something, outermost first.

    What only guards against slips, `assert` and `strict`, does nothing in a program that is right.
    """
    if isinstance(node, (ast.expr, ast.stmt)):
        yield node
    for name, value in ast.iter_fields(node):
        if name in {"annotation", "returns", "decorator_list", "bases", "format_spec", "ctx"}:
            continue
        if isinstance(node, ast.Assert):
            continue
        for part in value if isinstance(value, list) else [value]:
            if isinstance(part, ast.keyword) and part.arg == "strict":
                continue
            if isinstance(part, ast.AST):
                yield from _asked(part)


def _put(tree: ast.Module, old: ast.AST, new: ast.AST) -> None:
    for parent in ast.walk(tree):
        for name, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, name, new)
                return
            if isinstance(value, list):
                for at, part in enumerate(value):
                    if part is old:
                        value[at] = new
                        return
    raise LookupError(ast.dump(old))


def _instead(node: ast.expr | ast.stmt) -> Iterator[ast.expr | ast.stmt]:
    """What may stand in place of a node, each different from it in one respect."""
    if isinstance(node, ast.stmt):
        yield from _statement(node)
    elif isinstance(node, (ast.Compare, ast.BinOp, ast.BoolOp, ast.UnaryOp)):
        yield from _operation(node)
    elif isinstance(node, ast.IfExp):
        yield ast.IfExp(node.test, node.orelse, node.body)
    elif isinstance(node, (ast.ListComp, ast.SetComp, ast.GeneratorExp, ast.DictComp)):
        yield from _unfiltered(node)
    elif isinstance(node, ast.Call):
        yield from _called(node)
    elif isinstance(node, ast.Constant):
        yield from _constant(node.value)


def _operation(node: ast.Compare | ast.BinOp | ast.BoolOp | ast.UnaryOp) -> Iterator[ast.expr]:
    if isinstance(node, ast.Compare):
        for at, op in enumerate(node.ops):
            for other in _COMPARED[type(op)]:
                ops = [*node.ops[:at], other(), *node.ops[at + 1 :]]
                yield ast.Compare(node.left, ops, node.comparators)
    elif isinstance(node, ast.BinOp):
        if not _is_text(node.left) and not _is_text(node.right):
            yield ast.BinOp(node.left, _WORKED[type(node.op)](), node.right)
    elif isinstance(node, ast.BoolOp):
        yield ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values)
        for at in range(len(node.values)):
            rest = [*node.values[:at], *node.values[at + 1 :]]
            yield rest[0] if len(rest) == 1 else ast.BoolOp(node.op, rest)
    elif isinstance(node.op, (ast.Not, ast.USub)):
        yield node.operand


def _statement(node: ast.stmt) -> Iterator[ast.stmt]:
    if isinstance(node, (ast.If, ast.While)):
        changed = copy.copy(node)
        changed.test = ast.UnaryOp(ast.Not(), node.test)
        yield changed
    elif isinstance(node, ast.Return) and node.value and not _is_nothing(node.value):
        yield ast.Return(ast.Constant(None))
    elif isinstance(node, ast.AugAssign):
        yield ast.AugAssign(node.target, _WORKED[type(node.op)](), node.value)
        yield ast.Pass()
    elif isinstance(node, ast.Raise) or (
        isinstance(node, ast.Expr) and not isinstance(node.value, ast.Constant)
    ):
        yield ast.Pass()
    elif isinstance(node, ast.Assign) and not isinstance(node.targets[0], ast.Name):
        if not isinstance(node.targets[0], ast.Tuple):
            yield ast.Pass()
    elif isinstance(node, ast.Continue):
        yield ast.Break()
    elif isinstance(node, ast.Break):
        yield ast.Continue()


def _unfiltered(
    node: ast.ListComp | ast.SetComp | ast.GeneratorExp | ast.DictComp,
) -> Iterator[ast.expr]:
    """The comprehension without one of its conditions."""
    for at, part in enumerate(node.generators):
        for drop in range(len(part.ifs)):
            looser = copy.copy(part)
            looser.ifs = [*part.ifs[:drop], *part.ifs[drop + 1 :]]
            changed = copy.copy(node)
            changed.generators = [*node.generators[:at], looser, *node.generators[at + 1 :]]
            yield changed


def _called(node: ast.Call) -> Iterator[ast.expr]:
    if isinstance(node.func, ast.Name) and node.func.id in _CALLED:
        if node.func.id in {"floor", "ceil"}:  # either may not be imported
            turned = ast.UnaryOp(ast.USub(), node.args[0])
            yield ast.UnaryOp(ast.USub(), ast.Call(node.func, [turned], []))
        else:
            yield ast.Call(ast.Name(_CALLED[node.func.id], ast.Load()), node.args, node.keywords)
    elif isinstance(node.func, ast.Name) and node.func.id in {"sorted", "reversed"}:
        yield ast.Call(ast.Name("list", ast.Load()), node.args[:1], [])


def _constant(value: object) -> Iterator[ast.expr]:
    if isinstance(value, bool):
        yield ast.Constant(not value)
    elif isinstance(value, (int, float)):
        yield ast.Constant(value + 1)
        yield ast.BinOp(ast.Constant(value), ast.Sub(), ast.Constant(1))


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def _is_nothing(node: ast.expr) -> bool:
    """Whether it is None, or False, which is turned into True instead."""
    return isinstance(node, ast.Constant) and (node.value is None or node.value is False)
