"""What pydantic says of a document as problems with file, line and field."""

from __future__ import annotations

import typing
from collections.abc import Iterator, Sequence, Sized
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from ..errors import FeedstockError, Problem, nearest_names, shown
from .positions import Document, Path_, path_text

if TYPE_CHECKING:
    from pydantic import BaseModel, ValidationError


def problems_of(
    error: ValidationError,
    model: type[BaseModel],
    document: Document | None = None,
    prefix: Path_ = (),
) -> list[Problem]:
    """pydantic's errors as problems, each with its place and with our words."""
    problems = [problem for _, problem in told_problems(error, model, document, prefix)]
    return (
        sorted(problems, key=lambda p: (p.line or 0, p.column or 0))
        if document is not None
        else problems
    )


def told_problems(
    error: ValidationError,
    model: type[BaseModel],
    document: Document | None = None,
    prefix: Path_ = (),
) -> list[tuple[Path_, Problem]]:
    """As `problems_of`, each with the path at which pydantic found it."""
    problems = []
    for item in error.errors(include_url=False):
        if (
            item["type"] == "too_short"
            and isinstance(item["input"], Sized)
            and len(item["input"]) >= item["ctx"]["min_length"]
        ):
            # it counts what is left when the wrong entries are gone, and those are told themselves
            continue
        path = (*prefix, *(p for p in item["loc"] if p not in {"[key]"}))
        if path[-2:] == ("moisture", "value"):
            path = path[
                :-1
            ]  # the field that a plain text stands for is not one that a person wrote
        problems.append((path, _problem_of(dict(item), path, model, document)))
    return problems


_BOUNDS = {
    "less_than_equal": "at most",
    "less_than": "less than",
    "greater_than_equal": "at least",
    "greater_than": "more than",
}


_PLAIN = {
    "missing": ("missing-field", "the field is missing", "Write {field}: and its value."),
    "int_parsing": (
        "not-a-number",
        "'{given}' is not a whole number",
        "Write a whole number without a unit.",
    ),
    "int_from_float": (
        "not-a-number",
        "'{given}' is not a whole number",
        "Write a whole number without a unit.",
    ),
    "int_type": (
        "not-a-number",
        "'{given}' is not a whole number",
        "Write a whole number without a unit.",
    ),
    "float_parsing": ("not-a-number", "'{given}' is not a number", "Write a number."),
    "float_type": ("not-a-number", "'{given}' is not a number", "Write a number."),
    "finite_number": ("not-finite", "'{given}' is not a finite number", "Write a number."),
    "bool_parsing": ("not-yes-or-no", "'{given}' is neither yes nor no", "Write yes or no."),
    "bool_type": ("not-yes-or-no", "'{given}' is neither yes nor no", "Write yes or no."),
    "string_type": ("not-text", "a text is wanted, not {given}", "Write plain text."),
    "tuple_type": (
        "not-a-list",
        "a list is wanted, not '{given}'",
        "Write [first, second], or one a line after a dash.",
    ),
    "list_type": (
        "not-a-list",
        "a list is wanted, not '{given}'",
        "Write [first, second], or one a line after a dash.",
    ),
    "dict_type": (
        "not-a-mapping",
        "a mapping is wanted, not '{given}'",
        "Write `field: value`, one a line.",
    ),
    "model_type": (
        "not-a-mapping",
        "a mapping is wanted, not '{given}'",
        "Write `field: value`, one a line.",
    ),
    "model_attributes_type": (
        "not-a-mapping",
        "a mapping is wanted, not '{given}'",
        "Write `field: value`, one a line.",
    ),
    "string_too_long": (
        "too-long",
        "the text is too long",
        "Write at most {max_length} characters.",
    ),
    "too_long": ("too-long", "the list is too long", "Write at most {max_length} entries."),
    "int_parsing_size": (
        "not-a-number",
        "'{given}' is not a whole number",
        "Write a whole number without a unit.",
    ),
    "string_too_short": ("empty", "the text is empty", "Write something, or leave the field out."),
    "too_short": ("empty", "the list is empty", "Write at least one."),
}


def _problem_of(
    error: dict[str, Any], path: Path_, model: type[BaseModel], document: Document | None
) -> Problem:
    kind, context = error["type"], error.get("ctx", {})
    nearest: tuple[str, ...] = ()
    if kind == "feedstock":
        code, what, remedy = context["code"], context["what"], context["expected"]
        nearest, path = tuple(context["nearest"]), (*path, *context["at"])
    elif kind == "extra_forbidden":
        names, name = field_names(model, path[:-1]), str(path[-1])
        code, what = "unknown-field", f"'{shown(name)}' is not a field here"
        remedy, nearest = f"Fields: {', '.join(names)}.", nearest_names(name, names)
        inside = [field for field in names if name in field_names(model, (*path[:-1], field))]
        if inside:
            remedy = f"It belongs under {' or '.join(f'`{field}`' for field in inside)}. {remedy}"
            nearest = ()
        else:
            inner = dict(_names_inside(model, path[:-1], names))
            nearest = tuple(inner.get(n, n) for n in nearest_names(name, [*names, *inner]))
    else:
        code, what, remedy = _texts_of(error, path)
        if code == "not-a-mapping":
            remedy = _mapping_remedy(model, path) or remedy
    given, file = shown(error.get("input")), document.file if document else None
    place = document.place(path, key=kind == "extra_forbidden") if document is not None else None
    line, column = place if place else (None, None)
    return Problem(code, what, remedy, path_text(path), given, file, line, column, nearest)


def _names_inside(model: Any, path: Path_, names: Sequence[str]) -> Iterator[tuple[str, str]]:
    """The fields of fields that are none here, each as it may be written: `pieces.length`."""
    for field in reversed(names):
        for name in field_names(model, (*path, field)):
            if name not in names:
                yield name, f"{field}.{name}"


def _mapping_remedy(model: Any, path: Path_) -> str:
    """An example of what is wanted, where the model at a path gives one."""
    for part in path:
        model = _inner_model(model, part) if model is not None else None
    extra = getattr(model, "model_config", {}).get("json_schema_extra")
    examples = extra.get("examples", ()) if isinstance(extra, dict) else ()
    flat = [example for example in examples if all(isinstance(v, str) for v in example.values())]
    if not flat or not path:
        return ""
    fields = ", ".join(f"{name}: {value}" for name, value in flat[0].items())
    return f"Write for instance {path[-1]}: {{{fields}}}."


def _texts_of(error: dict[str, Any], path: Path_) -> tuple[str, str, str]:
    """Code, what is wrong and the remedy of an error of pydantic's own."""
    kind, context = error["type"], error.get("ctx", {})
    given = shown(error.get("input"))
    if kind in _BOUNDS:
        bound = next(iter(v for k, v in context.items() if k in ("le", "lt", "ge", "gt")), "")
        return "out-of-range", f"'{given}' is out of range", f"Write {_BOUNDS[kind]} {bound}."
    if kind in {"literal_error", "enum"}:
        what = f"'{given}' is not a word that is known here"
        return "unknown-word", what, f"Write {context.get('expected', '')}."
    if kind not in _PLAIN:
        what = f"'{given}': {error['msg'][:1].lower()}{error['msg'][1:]}"
        return kind.replace("_", "-"), what, "Fix it."
    code, what, remedy = _PLAIN[kind]
    if error.get("input") is None:
        what, given = what.replace("'{given}'", "nothing"), "nothing"
    remedy = remedy.replace("{field}", str(path[-1]) if path else "it")
    remedy = remedy.replace("{max_length}", str(context.get("max_length", "")))
    return code, what.format(given=given), remedy


def field_names(model: Any, path: Path_) -> list[str]:
    """The names of the fields that the model has at a path."""
    for part in path:
        model = _inner_model(model, part)
        if model is None:
            return []
    return [info.alias or name for name, info in getattr(model, "model_fields", {}).items()]


def _inner_model(model: Any, part: str | int) -> Any:
    if isinstance(part, int) or not hasattr(model, "model_fields"):
        return model
    info = model.model_fields.get(part)
    return (
        _model_in(info.annotation)
        if info
        else (model if not hasattr(model, "model_fields") else None)
    )


def _model_in(annotation: Any) -> Any:
    if hasattr(annotation, "model_fields"):
        return annotation
    for inner in typing.get_args(annotation):
        if isinstance(inner, type) or typing.get_args(inner):
            model = _model_in(inner)
            if model is not None:
                return model
    return None


def placed(why: FeedstockError, document: Document | None) -> FeedstockError:
    """The same problems, each with its line in the file that the heap was read from."""
    if document is None:
        return why
    problems = []
    for problem in why.problems:
        path = problem.path
        # what was given beside the file (a burn, the limits) stands nowhere in it
        place = (
            document.place(path) if problem.file is None and path[:1] in document.places else None
        )
        problems.append(
            replace(problem, file=document.file, line=place[0], column=place[1])
            if place
            else problem
        )
    problems.sort(key=lambda problem: (problem.line or 0, problem.column or 0))
    return type(why)(problems, why.left_out)
