"""Every field of every kind of row in words: what it means, what may stand there, what the
reference holds, and an example from it. Made from the models and the reference tables, so that it
cannot differ from them.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic.fields import FieldInfo

from ..errors import InputError, Problem, nearest_names, shown
from ..quantities.cell import Cell
from ..quantities.described import field_texts
from ..quantities.frozen import frozen
from ..quantities.units import DIMENSIONS
from ..tables.loading.load import load_tables
from ..tables.loading.raw import SET_PARTS
from ..tables.rows.cell import CellOf
from ..tables.rows.cell_parts import CELL_PARTS
from ..tables.rows.kinds import MODELS
from ..tables.rows.light import Light
from ..tables.rows.methods.kinds import METHODS
from ..tables.rows.row import Row, Sourced
from ..words import Texts
from ..words.layout import wrapped
from .json_schema import METHOD_KIND

Model = type[Light]
_LONGEST_EXAMPLE = 120


@dataclass(slots=True)
class FieldUse:
    """What the reference holds of a field: its cells, and the first value that says something."""

    cells: list[Cell] = field(default_factory=list)
    example: str = ""


def field_page(word: str | None = None) -> str:
    """The page, or the part of it that a word names: a kind of row, of method, or a field.

    Raises InputError for a word that names none.
    """
    sections = [section for section in _sections() if word is None or section.is_named(word)]
    if not sections:
        names = sorted({name for section in _sections() for name in section.names})
        what = f"'{shown(word)}' is no kind of row, no method and no field"
        remedy = f"Write a kind ({', '.join(MODELS)}, methods), a method, or the name of a field."
        near = nearest_names(str(word), names)
        raise InputError([Problem("unknown-word", what, remedy, nearest=near)])
    return "\n\n".join(section.text(word) for section in sections) + "\n"


@frozen
class Section:
    """A kind of row or a part of one, with its fields as lines."""

    head: str
    about: str
    fields: tuple[tuple[str, tuple[str, ...]], ...]
    called: tuple[str, ...]

    @property
    def names(self) -> set[str]:
        return {*self.called, *(name for name, _ in self.fields)}

    def is_named(self, word: str) -> bool:
        return word in self.names

    def text(self, word: str | None) -> str:
        whole = word is None or word in self.called
        lines = [wrapped(f"{self.head}: {self.about}" if self.about else self.head, rest="  ")]
        for name, meaning in self.fields:
            if whole or name == word:
                lines.append(wrapped(f"{name}: {meaning[0]}", "  ", "    "))
                lines += (wrapped(line, "    ", "    ") for line in meaning[1:])
        return "\n".join(lines)


@lru_cache(maxsize=1)
def _sections() -> tuple[Section, ...]:
    uses = _field_uses()
    parts = {name: (text,) for name, text in CELL_PARTS.items()}
    sections = [
        Section("set", "What a set says of itself.", _plain(SET_PARTS), ("set",)),
        Section("A cell", "A number of a table.", tuple(parts.items()), ("cell",)),
    ]
    done: set[Model] = set()
    for model, head in ((Row, "Every row"), (Sourced, "Every row but sources and materials")):
        sections.append(Section(head, "", tuple(_fields(model, uses)), ("row",)))
    for kind, model in MODELS.items():
        sections += _of_model(kind, model, (kind,), uses, done)
    for kind, model in METHODS.items():
        sections += _of_model(f"methods, kind: {kind}", model, ("methods", kind), uses, done)
    return tuple(sections)


def _plain(parts: Mapping[str, str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return tuple((name, (text,)) for name, text in parts.items())


def _of_model(
    head: str,
    model: Model,
    called: tuple[str, ...],
    uses: Mapping[tuple[Model, str], FieldUse],
    done: set[Model],
) -> Iterator[Section]:
    """The model, and under it the parts that it is made of and that were not told before."""
    done.add(model)
    about = " ".join((model.__doc__ or "").split())
    yield Section(head, about, tuple(_fields(model, uses)), called)
    for info in model.model_fields.values():
        for part in _models(info.annotation):
            if part not in done:
                yield from _of_model(f"{head}, a {part.__name__}", part, called, uses, done)


def _fields(
    model: Model, uses: Mapping[tuple[Model, str], FieldUse]
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The fields that a model brings itself; those of every row are told once."""
    texts = field_texts(model)
    for name, info in model.model_fields.items():
        if name in model.__annotations__:
            meaning = METHOD_KIND if name == "kind_" else texts.get(name, "")
            use = uses.get((model, name), FieldUse())
            yield info.alias or name, tuple(_field_lines(meaning, info, use))


def _field_lines(meaning: str, info: FieldInfo, use: FieldUse) -> Iterator[str]:
    """What it means; what may stand there and what the reference has; an example."""
    yield meaning
    needed = "; needed" if info.is_required() else ""
    yield f"{_may_be(info)}{needed}{_span(use.cells)}."
    cell = _cell_of(info)
    example = use.example
    if not example and cell is not None:
        example = DIMENSIONS.get(cell.dimension, DIMENSIONS["share"]).example
    if example:
        yield f"For instance: {example}"


def _may_be(info: FieldInfo) -> str:
    cell, by = _cell_of(info), "" if not _mapping(info.annotation) else " for each key"
    if cell is not None:
        return f"A cell{by}: {_measure(cell)}"
    parts = [part.__name__ for part in _models(info.annotation)]
    if parts:
        many = " for each key" if by else "s" if _tuple(info.annotation) else ""
        return f"A {parts[0]}{many}"
    words = list(dict.fromkeys(_words(info.annotation)))
    if words:
        return f"One{by} of {', '.join(words)}"
    return _plainly(info, by)


def _plainly(info: FieldInfo, by: str) -> str:
    kinds = set(_leaves(info.annotation))
    if bool in kinds:
        return f"true or false, {str(info.default).lower()} where it is left out"
    if kinds & {int, float}:
        bounds = {
            type(m).__name__: getattr(m, type(m).__name__.lower(), None) for m in info.metadata
        }
        low, high = bounds.get("Ge"), bounds.get("Le")
        return "A number" if low is None else f"A number, {low} to {high}"
    if Texts in kinds:
        return "A text, or texts by language"
    return f"A text{by}" if not _tuple(info.annotation) else f"A text or a list of texts{by}"


def _measure(cell: CellOf) -> str:
    """The unit, and what is possible at all."""
    if cell.dimension == "moisture":
        return "a moisture with its basis, % wet or % dry"
    dimension = DIMENSIONS[cell.dimension]
    unit = dimension.si if dimension.si != "1" else "%" if dimension.name == "share" else "no unit"
    bounds = [
        f"{word} {100 * bound if unit == '%' else bound:g}"
        for word, bound in (("at least", cell.minimum), ("at most", cell.maximum))
        if bound is not None
    ]
    exact = ", with or without an interval" if cell.exact else ""
    return f"{dimension.name} ({', '.join([unit, *bounds])}){exact}"


def _span(cells: list[Cell]) -> str:
    """From the least to the greatest value of the reference, as they stand there."""
    if not cells:
        return ""
    least, most = min(cells, key=lambda c: c.mid), max(cells, key=lambda c: c.mid)
    if least.mid == most.mid:
        return f"; {least.text[0]} in the reference"
    return f"; {least.text[0]} to {most.text[0]} in the reference"


# --- what the reference holds --------------------------------------------------------------------


def _field_uses() -> dict[tuple[Model, str], FieldUse]:
    """The cells and an example of every field, from the reference alone."""
    uses: dict[tuple[Model, str], FieldUse] = {}
    for rows in load_tables(plugins=False).rows.values():
        for row in rows.values():
            _collect(row, uses)
    return uses


def _collect(model: Light, uses: dict[tuple[Model, str], FieldUse]) -> None:
    for name in type(model).model_fields:
        value = getattr(model, name)
        use = uses.setdefault((_brought_by(type(model), name), name), FieldUse())
        for item in _items(value):
            if isinstance(item, Cell):
                use.cells.append(item)
            elif isinstance(item, Light):
                _collect(item, uses)
        if not use.example:
            use.example = _example(value)


def _brought_by(model: Model, name: str) -> Model:
    """The model that a field was declared in."""
    return next(base for base in model.__mro__ if name in vars(base).get("__annotations__", {}))


def _items(value: Any) -> Iterator[Any]:
    """What stands in a value, however deep in mappings and lists."""
    if isinstance(value, Mapping):
        for item in value.values():
            yield from _items(item)
    elif isinstance(value, tuple):
        for item in value:
            yield from _items(item)
    else:
        yield value


def _example(value: Any) -> str:
    """A value as it would be written; nothing for one that says nothing, or that is long."""
    if isinstance(value, Cell):
        mid, low, high = value.text
        ends = f", low: {low}, high: {high}" if low != high else ""
        return f"{{value: {mid}{ends}}}"
    if isinstance(value, bool):
        return "true" if value else ""
    if isinstance(value, (str, int, float)):
        text = str(value)
        return text if len(text) <= _LONGEST_EXAMPLE else ""
    if isinstance(value, Mapping) and value:
        key, item = next(iter(value.items()))
        inner = _example(item)
        return f"{{{key}: {inner}}}" if inner else ""
    if isinstance(value, tuple) and value and not isinstance(value[0], Light):
        inner = ", ".join(text for text in map(_example, value[:3]) if text)
        return f"[{inner}]" if inner else ""
    return ""


# --- annotations ---------------------------------------------------------------------------------


def _inside(annotation: Any) -> Iterator[Any]:
    """An annotation and all that stands in it."""
    yield annotation
    for item in get_args(annotation):
        yield from _inside(item)


def _models(annotation: Any) -> Iterator[Model]:
    for item in _inside(annotation):
        if isinstance(item, type) and issubclass(item, Light):
            yield item


def _leaves(annotation: Any) -> Iterator[type]:
    return (item for item in _inside(annotation) if isinstance(item, type))


def _words(annotation: Any) -> Iterator[str]:
    origin = get_origin(annotation)
    if origin is Literal:
        yield from map(str, get_args(annotation))
    elif origin in (typing.Union, types.UnionType, Annotated, tuple):
        for item in get_args(annotation):
            yield from _words(item)


def _cell_of(info: FieldInfo) -> CellOf | None:
    marks = [*info.metadata, *_inside(info.annotation)]
    return next((item for item in marks if isinstance(item, CellOf)), None)


def _mapping(annotation: Any) -> bool:
    return any(get_origin(item) is dict for item in _inside(annotation))


def _tuple(annotation: Any) -> bool:
    return any(get_origin(item) is tuple for item in _inside(annotation))
