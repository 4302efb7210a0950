"""Strict YAML with positions."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from typing import Any

from ..errors import InputError, Problem, shown
from .encoding import place_of_control
from .positions import Document, Place
from .yaml_walker import Walker, too_deep


def _yaml_problem(why: Exception, name: str, text: str) -> Problem:
    unclosed = "quoted scalar" in str(getattr(why, "context", "")) and "end of stream" in str(
        getattr(why, "problem", "")
    )
    mark = getattr(why, "context_mark" if unclosed else "problem_mark", None) or getattr(
        why, "context_mark", None
    )
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (None, None)
    message = getattr(why, "problem", None) or str(why).split("\n")[0]
    lines = text.split("\n")
    here = lines[mark.line] if mark is not None and mark.line < len(lines) else ""
    if "\t" in here[: len(here) - len(here.lstrip())] or "\\t" in message:
        return Problem(
            "tab",
            "a tab stands where YAML wants spaces",
            "Indent with spaces.",
            file=name,
            line=line,
            column=column,
        )
    if unclosed:
        return Problem(
            "unclosed-quote",
            "a quote is opened here and never closed",
            "Close it at the end of the text.",
            file=name,
            line=line,
            column=column,
        )
    if "nesting depth" in message:
        return too_deep(name, line, column)
    if "special characters" in message or "control characters" in message:
        line, column = place_of_control(text)
        return Problem(
            "binary",
            "a control character stands in the text",
            "Delete it, and save as UTF-8.",
            file=name,
            line=line,
            column=column,
        )
    return Problem(
        "not-yaml",
        f"this is not YAML that can be read: {shown(message, 90)}",
        "Write `field: value`, one a line; put text that holds a colon or a quote in quotes.",
        file=name,
        line=line,
        column=column,
    )


def read_yaml(text: str, name: str, null: str = "") -> Document:
    """Parse strictly.

    Raises InputError with all problems found (a syntax error hides what stands below it).

    `null` is the bare word that stands for nothing; there is none in YAML, where a field without a
    value is nothing.
    """
    root = _composed(text, name)
    if root is None:
        what, remedy = "the file holds nothing but comments", "Write at least one lot or row."
        raise InputError([Problem("empty", what, remedy, file=name)])
    walker = Walker(name, text, null)
    data = walker.walk(root, (), 0)
    if walker.problems:
        raise InputError(walker.problems)
    return Document(data, name, walker.places, walker.keys)


def _composed(text: str, name: str) -> Any:
    """The root node; None for a document of comments alone."""
    import yaml

    deep = _nests_deep(text) if _may_nest_deep(text) else None
    if deep is not None:
        raise InputError([too_deep(name, *deep)])
    loader: Any = _plain_loader()(text)
    try:
        return loader.get_single_node()
    except yaml.YAMLError as why:
        raise InputError([_syntax_problem(why, name, text)]) from None
    except RecursionError:
        raise InputError([too_deep(name)]) from None
    except (ValueError, UnicodeError) as why:
        what = f"this cannot be read as YAML ({shown(str(why))})"
        raise InputError([Problem("not-yaml", what, "Write a plain mapping.", file=name)]) from None
    finally:
        loader.dispose()


def _syntax_problem(why: Exception, name: str, text: str) -> Problem:
    problem = _yaml_problem(why, name, text)
    if "single document" in str(why):
        code, what = "documents", "a second document begins here"
        remedy = "Keep one document a file: delete the line ---."
    elif "undefined alias" in str(why):
        code, what, remedy = "alias", "an alias (*) stands here", "Write the value out."
    else:
        return problem
    return replace(problem, code=code, what=what, expected=remedy)


_COMPOSED_DEPTH = 100
"""What is composed at all.

Composing is recursive, and some builds of the C library end the process when it goes too deep.
"""


_BRACKET_RE = re.compile(r"[][{}]")


_INDENT_RE = re.compile(rf"^[ ?-]{{{_COMPOSED_DEPTH},}}", re.MULTILINE)


def _may_nest_deep(text: str) -> bool:
    """A quick look that errs on the side of yes: open brackets, and what stands before the first
    word of a line.
    """
    depth = deepest = 0
    for match in _BRACKET_RE.finditer(text):
        depth += 1 if match.group() in "[{" else -1
        deepest = max(deepest, depth)
    return deepest > _COMPOSED_DEPTH or _INDENT_RE.search(text) is not None


def _nests_deep(text: str) -> Place | None:
    """Where it goes too deep, if it does: levels are counted from the parser's events, which come
    without recursion.
    """
    import yaml

    depth = 0
    try:
        for event in yaml.parse(text, Loader=_plain_loader()):
            if isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
                depth += 1
                if depth > _COMPOSED_DEPTH:
                    mark: Any = event.start_mark
                    return mark.line + 1, mark.column + 1
            elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
                depth -= 1
    except (yaml.YAMLError, ValueError):
        return None  # told when it is composed, which goes no deeper than this
    return None


@lru_cache(maxsize=1)
def _plain_loader() -> Any:
    """The C loader where there is one, without any idea of numbers, dates and truth: every scalar
    is text.
    """
    import yaml

    base: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    return type("PlainLoader", (base,), {"yaml_implicit_resolvers": {}})
