"""Formulas written out where a compiled chain would call them: calls cost more than what they do.

A function of the physics is an expression of its arguments, at most with a few names for parts of
it. Such a function is written out, with numbered names, for single numbers; the operations and
their order are its own, so that it gives the same to the last digit. Whatever is not of that form,
or whose source is not at hand as it was loaded, is called as before.
"""

from __future__ import annotations

import ast
import linecache
import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import takewhile
from types import CodeType, FunctionType, ModuleType
from typing import Any

from . import elementwise

_FLOAT_FORMS: dict[Any, Callable[[float], float]] = {
    elementwise.exp: math.exp,
    elementwise.log: math.log,
    elementwise.sqrt: math.sqrt,
    elementwise.sin: math.sin,
    elementwise.arcsin: math.asin,
}
_CHOICES: dict[Any, ast.cmpop] = {elementwise.minimum: ast.LtE(), elementwise.maximum: ast.GtE()}
_DEEPEST = 4
"""Functions within functions that are written out."""


class _NotPlainError(Exception):
    """What cannot be written out."""


class Writer:
    """Writes lines of one compiled function; `space` is what its code sees."""

    def __init__(self, space: dict[str, Any]) -> None:
        self.space = space
        self._count = 0

    def lines(self, function: Callable[..., Any], arguments: Sequence[str]) -> list[str] | None:
        """Lines that end in the value of a call, as an expression; None for one to be called.

        `arguments` are names.

        >>> from .elementwise import maximum
        >>> Writer({}).lines(_example, ["x0", "x1"])
        ['t1=x0 * 2.0', 't1 if t1 >= x1 else x1']
        """
        before, written = self._count, list[str]()
        names: list[ast.expr] = [ast.Name(name) for name in arguments]
        try:
            value = self._value(function, names, written, 0)
        except _NotPlainError:
            self._count = before
            return None
        return [*written, ast.unparse(value)]

    def _value(
        self, function: Any, arguments: Sequence[ast.expr], written: list[str], depth: int
    ) -> ast.expr:
        body = _plain_body(function)
        if body is None or depth > _DEEPEST or len(body[0]) != len(arguments):
            raise _NotPlainError
        parameters, statements = body
        known = dict(zip(parameters, arguments, strict=True))
        expression = _Expression(self, function.__globals__, known, written, depth)
        for statement in statements[:-1]:
            targets, values = _assigned(statement)
            found = [self.named(expression.of(value), written) for value in values]
            known.update(zip(targets, found, strict=True))
        last = statements[-1]
        if not isinstance(last, ast.Return) or last.value is None:
            raise _NotPlainError
        return expression.of(last.value)

    def named(self, value: ast.expr, written: list[str]) -> ast.expr:
        """A value that may be used more than once without being worked out again."""
        if isinstance(value, (ast.Name, ast.Constant)):
            return value
        self._count += 1
        name = f"t{self._count}"
        written.append(f"{name}={ast.unparse(value)}")
        return ast.Name(name)

    def bound(self, function: Callable[..., Any]) -> ast.expr:
        """A function that is called, under a name of its own."""
        self._count += 1
        name = f"g{self._count}"
        self.space[name] = function
        return ast.Name(name)


class _Expression:
    """Rewrites the expressions of one function."""

    def __init__(
        self,
        writer: Writer,
        seen: dict[str, Any],
        known: dict[str, ast.expr],
        written: list[str],
        depth: int,
    ) -> None:
        self._writer, self._seen, self._known = writer, seen, known
        self._written, self._depth = written, depth

    def of(self, node: ast.expr) -> ast.expr:
        if isinstance(node, ast.BinOp):
            return ast.BinOp(self.of(node.left), node.op, self.of(node.right))
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            return ast.UnaryOp(node.op, self.of(node.operand))
        if isinstance(node, ast.Name) and node.id in self._known:
            return self._known[node.id]
        if isinstance(node, ast.Call) and not node.keywords:
            return self._call(self._object(node.func), node.args)
        return _number(node.value if isinstance(node, ast.Constant) else self._object(node))

    def _call(self, function: Any, arguments: Sequence[ast.expr]) -> ast.expr:
        writer, written = self._writer, self._written
        values = [self.of(argument) for argument in arguments]
        if function in _CHOICES and len(values) == 2:
            a, b = (writer.named(value, written) for value in values)
            return ast.IfExp(ast.Compare(a, [_CHOICES[function]], [b]), a, b)
        if function in _FLOAT_FORMS:
            return ast.Call(writer.bound(_FLOAT_FORMS[function]), values, [])
        if not isinstance(function, FunctionType):
            raise _NotPlainError
        values = [writer.named(value, written) for value in values]
        return writer._value(function, values, written, self._depth + 1)

    def _object(self, node: ast.expr) -> Any:
        """What a name of the module stands for."""
        if isinstance(node, ast.Name) and node.id in self._seen and node.id not in self._known:
            return self._seen[node.id]
        if isinstance(node, ast.Attribute):
            owner = self._object(node.value)
            if isinstance(owner, ModuleType) and hasattr(owner, node.attr):
                return getattr(owner, node.attr)
        raise _NotPlainError


def _number(value: Any) -> ast.expr:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise _NotPlainError
    return ast.Constant(value)


def _assigned(statement: ast.stmt) -> tuple[list[str], list[ast.expr]]:
    """Names and values of a statement that gives names to parts: one, or several at once."""
    if not isinstance(statement, ast.Assign) or len(statement.targets) != 1:
        raise _NotPlainError
    target, value = statement.targets[0], statement.value
    targets, values = [target], [value]
    if isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
        targets, values = target.elts, value.elts
    names = [each.id for each in targets if isinstance(each, ast.Name)]
    if len(names) != len(targets) or len(names) != len(values):
        raise _NotPlainError
    return names, values


# --- the source of a function, as it was loaded ---------------------------------------------------


@lru_cache(maxsize=1024)
def _plain_body(function: Any) -> tuple[tuple[str, ...], tuple[ast.stmt, ...]] | None:
    """Parameters and statements of a function of a module with nothing but plain parameters."""
    if not isinstance(function, FunctionType) or function.__closure__ or function.__defaults__:
        return None
    node = _definition(function)
    if node is None:
        return None
    of = node.args
    if of.vararg or of.kwarg or of.kwonlyargs:
        return None
    statements = tuple(node.body[1:] if ast.get_docstring(node) is not None else node.body)
    names = tuple(argument.arg for argument in (*of.posonlyargs, *of.args))
    return (names, statements) if statements else None


def _definition(function: FunctionType) -> ast.FunctionDef | None:
    """Where a function of a module is defined; None where the source is not the one that runs.

    Only its own lines are read: a file holds many that no chain calls.
    """
    code, seen = function.__code__, function.__globals__
    lines = linecache.getlines(code.co_filename)[code.co_firstlineno - 1 :]
    # what is called of a module that was imported compiles otherwise than a method
    modules = [name for name in code.co_names if isinstance(seen.get(name), ModuleType)]
    above = "".join(f"import {name};" for name in modules) + "pass\n"
    try:
        head = next(n for n, line in enumerate(lines, 1) if line.startswith("def "))
        tree = ast.parse("".join([above, *lines[:head], *takewhile(_is_inside, lines[head:])]))
        # functions within a function are told by their lines too
        ast.increment_lineno(tree, code.co_firstlineno - 2)
        flags = code.co_flags & annotations.compiler_flag
        made = compile(tree, code.co_filename, "exec", flags, dont_inherit=True)
    except (StopIteration, SyntaxError, ValueError):
        return None
    node = tree.body[-1]
    found = next((each for each in made.co_consts if isinstance(each, CodeType)), None)
    if not isinstance(node, ast.FunctionDef) or found is None or found.co_name != code.co_name:
        return None
    parts = ("co_code", "co_names", "co_varnames", "co_consts")
    same = all(getattr(found, part) == getattr(code, part) for part in parts)
    return node if same else None


def _is_inside(line: str) -> bool:
    """Whether a line behind the name of a function still belongs to it, as it is formatted."""
    return line[:1] in (" ", ")", "\n")


def _example(a: Any, b: Any) -> Any:
    return elementwise.maximum(a * 2.0, b)
