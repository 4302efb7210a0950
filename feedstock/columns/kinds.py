"""Rows of a table by kind: what a lot says without its amount and its name. Of a kind one lot is
bound and judged, by the very code of a single call; of the others only the amount is run.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import numpy as np
import pyarrow as pa

from ..errors import InputError, Problem, nearest_names, shown
from ..model.inputs.rows import CSV_FIELDS
from ..quantities.frozen import frozen
from ..quantities.parse import read_quantity
from ..quantities.units import Refused
from ..tables.names.danger import scan, unread
from ..tables.tables import Tables

DIMENSION_OF = {
    "mass": "mass",
    "volume": "volume",
    "pieces.count": "",
    "stack.width": "length",
    "stack.length": "length",
    "stack.height": "length",
    "containers.count": "",
}
"""The columns that hold an amount, and what they measure; a number of pieces measures nothing."""

_DIGITS = re.compile(r"\d+")


@frozen
class Amounts:
    """A column of amounts: SI middles, NaN where there is none that can be read, and a number that
    says which range a row states of it, as parts of its middle.
    """

    mids: Any
    ranges: Any


@frozen
class Columns:
    """The columns of a batch as they are grouped: the kind of every row, and its amounts."""

    kinds: Any
    amounts: Mapping[str, Amounts]


def grouped(batch: pa.RecordBatch, tables: Tables) -> Columns:
    """The rows of a batch by kind. Raises InputError for a column that a lot has not."""
    _check_columns(batch)
    code = np.zeros(batch.num_rows, dtype=np.int64)
    amounts = {}
    for name, column in zip(batch.schema.names, batch.columns, strict=True):
        if name in DIMENSION_OF:
            amounts[name] = _amounts(column, batch.schema.field(name), DIMENSION_OF[name])
            part, count = amounts[name].ranges, int(amounts[name].ranges.max(initial=0)) + 1
        elif name == "name":
            part, count = _names(column, tables)
        else:
            part, count = _codes(column)
        code = _joined(code, part, count)
    return Columns(_codes(pa.array(code))[0], amounts)


def _check_columns(batch: pa.RecordBatch) -> None:
    wrong = [name for name in batch.schema.names if name not in CSV_FIELDS]
    if wrong or len(set(batch.schema.names)) < len(batch.schema.names):
        raise InputError(
            [
                Problem(
                    "unknown-field",
                    f"'{shown(name)}' is not a column of a lot",
                    f"Columns: {', '.join(CSV_FIELDS)}.",
                    name,
                    nearest=nearest_names(name, CSV_FIELDS),
                )
                for name in wrong
            ]
            or [Problem("duplicate-key", "two columns have one name", "Keep one of them.")]
        )


def _codes(column: pa.Array) -> tuple[Any, int]:
    """A number for every value; 0 for none."""
    encoded = column.dictionary_encode()
    numbers = encoded.indices.fill_null(-1).to_numpy(zero_copy_only=False).astype(np.int64) + 1
    return numbers, len(encoded.dictionary) + 1


def _joined(code: Any, part: Any, count: int) -> Any:
    """One number for two; numbers that grow large are counted anew."""
    joined = code * count + part
    if int(joined.max(initial=0)) > 1 << 40:
        joined = _codes(pa.array(joined))[0]
    return joined


def _names(column: pa.Array, tables: Tables) -> tuple[Any, int]:
    """Names count as far as their words say something; their numbers say nothing."""
    encoded = column.cast(pa.string()).dictionary_encode()
    speaks: dict[str, bool] = {}
    classes = {"": 0}
    of = [0]
    for name in encoded.dictionary.to_pylist():
        plain = _DIGITS.sub("0", name)
        if plain not in speaks:
            speaks[plain] = bool(scan(tables, plain, "name") or unread(tables, plain))
        of.append(classes.setdefault(plain, len(classes)) if speaks[plain] else 0)
    numbers = encoded.indices.fill_null(-1).to_numpy(zero_copy_only=False) + 1
    return np.array(of, dtype=np.int64)[numbers], len(classes)


def _amounts(column: pa.Array, field: pa.Field, dimension: str) -> Amounts:
    unit = (field.metadata or {}).get(b"unit", b"").decode()
    if pa.types.is_integer(column.type) or pa.types.is_floating(column.type):
        values = column.cast(pa.float64()).to_numpy(zero_copy_only=False)
        factor = 1.0 if not dimension else _factor(unit, dimension, field.name)
        stated = np.where(np.isnan(values), 0, 1)
        return Amounts(values * factor, stated.astype(np.int64))
    encoded = column.cast(pa.string()).dictionary_encode()
    ranges: dict[tuple[float, float] | None, int] = {None: 1}
    mids, classes = [np.nan], [0]
    for text in encoded.dictionary.to_pylist():
        mid, part = _read(text, dimension)
        mids.append(mid)
        # what says nothing, or cannot be read, is looked at as it stands
        classes.append(0 if not text.strip() else ranges.setdefault(part, len(ranges) + 1))
    numbers = encoded.indices.fill_null(-1).to_numpy(zero_copy_only=False) + 1
    return Amounts(np.array(mids)[numbers], np.array(classes, dtype=np.int64)[numbers])


def _read(text: str, dimension: str) -> tuple[float, tuple[float, float] | None]:
    """The middle of an amount, and the range that is stated as parts of it."""
    try:
        if not dimension:
            return float(text), None
        measured = read_quantity(text, dimension)
    except (Refused, ValueError):
        return np.nan, None
    if measured.low is None or measured.high is None or not measured.mid > 0:
        return measured.mid, None
    low, high = (float(f"{end / measured.mid:.12g}") for end in (measured.low, measured.high))
    return measured.mid, (low, high)


def _factor(unit: str, dimension: str, name: str) -> float:
    try:
        return read_quantity(f"1 {unit}", dimension).mid
    except Refused as why:
        what = f"the numbers of `{name}` have no unit that is known here"
        remedy = "Give the field's metadata a unit, for instance {'unit': 'kg'}."
        raise InputError([Problem("no-unit", what, f"{remedy} {why.expected}", name)]) from None


def cell_text(value: Any, field: pa.Field) -> Any:
    """A cell as a person would write it: a number with the unit of its column."""
    unit = (field.metadata or {}).get(b"unit", b"").decode()
    if isinstance(value, (int, float)) and not isinstance(value, bool) and unit:
        return f"{value!r} {unit}"
    return value
