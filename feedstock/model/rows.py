"""Results as flat rows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum
from typing import Any, get_args

from pydantic import BaseModel

from ..quantities.estimate import Estimate
from ..quantities.format import Units, in_units
from ..words import Message
from .findings import Finding

_ENDS = ("low", "mid", "high", "unit")


def flat_rows(results: Sequence[BaseModel], units: Units) -> list[dict[str, Any]]:
    """Each result as one flat dict of text and plain numbers; what there is none of is None, so
    that every row has the same columns.
    """
    return [dict(_cells(type(result), result, "", units)) for result in results]


def _cells(
    model: type[BaseModel], result: BaseModel | None, lead: str, units: Units
) -> Iterator[tuple[str, Any]]:
    """The cells of a result; without one the names of those that it would have."""
    kinds = {name: info.annotation for name, info in model.model_fields.items()}
    kinds |= {name: info.return_type for name, info in model.model_computed_fields.items()}
    for name, kind in kinds.items():
        value = None if result is None else getattr(result, name)
        here, inner = f"{lead}{name}", _found_in(kind, BaseModel)
        if _found_in(kind, Estimate):
            shown = in_units(value, units) if isinstance(value, Estimate) else None
            yield from _figure(here, shown)
        elif _found_in(kind, tuple):
            if _found_in(kind, Finding):
                yield here, " | ".join(item.code for item in value or ())
        elif inner is not None:
            yield from _cells(inner, value, f"{here}.", units)
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            yield here, float(value)
        elif isinstance(value, (Enum, Message)):
            yield here, str(value)
        else:
            yield here, value


def _figure(name: str, value: Estimate | None) -> Iterator[tuple[str, Any]]:
    cells = (
        (None,) * len(_ENDS)
        if value is None
        else (value.low_value, value.mid_value, value.high_value, value.unit)
    )
    yield from ((f"{name}.{end}", cell) for end, cell in zip(_ENDS, cells, strict=True))


def _found_in(annotation: Any, kind: type) -> Any:
    """The type of that kind in an annotation, as `Scores` in `Scores | None`; None without one."""
    origin = getattr(annotation, "__origin__", annotation)
    if isinstance(origin, type) and issubclass(origin, kind):
        return origin
    return next(
        (inner_kind for inner in get_args(annotation) if (inner_kind := _found_in(inner, kind))),
        None,
    )
