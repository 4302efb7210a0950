"""Rows of a table by kind: what a lot says without its amount and its name. Of a kind one lot is
bound and judged, by the very code of a single call; of the others only the amount is run.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.compute

from ..errors import InputError, Problem, nearest_names, shown, without_controls
from ..model.inputs.fields import LONGEST_TEXT
from ..model.inputs.rows import CSV_FIELDS, LISTS
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
_COUNTS = {
    "pieces.count": re.compile(r" *[0-9]+ *"),
    "containers.count": re.compile(r" *[0-9]+(\.[0-9]+)? *"),
}
"""Counts as people write them. Any other is looked at by itself, by the rules of a single call."""


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


def plain(batch: pa.RecordBatch) -> pa.RecordBatch:
    """A batch with columns of text, numbers, yes and no, or lists of texts, whatever kinds of these
    came in. Raises InputError for a column that a lot has not, or of another kind.
    """
    _check_columns(batch)
    schema, columns = batch.schema, []
    for at, (field, column) in enumerate(zip(batch.schema, batch.columns, strict=True)):
        cast = column.cast(_kind(field))
        columns.append(cast)
        schema = schema.set(at, pa.field(field.name, cast.type, metadata=field.metadata))
    return pa.RecordBatch.from_arrays(columns, schema=schema)


def _kind(field: pa.Field) -> pa.DataType:
    """As what a column is read."""
    kind = field.type.value_type if pa.types.is_dictionary(field.type) else field.type
    if pa.types.is_list(kind) or pa.types.is_large_list(kind):
        if field.name in LISTS and _is_text(kind.value_type):
            return pa.list_(pa.string())
    elif _is_text(kind) or pa.types.is_null(kind):
        return pa.string()
    elif pa.types.is_integer(kind) or pa.types.is_boolean(kind) and field.name not in DIMENSION_OF:
        return kind
    elif pa.types.is_floating(kind) or pa.types.is_decimal(kind):
        return pa.float64()
    what = f"the column `{shown(field.name)}` is of the kind {shown(str(kind))}"
    remedy = "Give text or numbers; lists of texts for signs, dismiss and pieces.diameters."
    raise InputError([Problem("wrong-type", what, remedy, field.name)])


def _is_text(kind: pa.DataType) -> bool:
    return bool(
        pa.types.is_string(kind) or pa.types.is_large_string(kind) or pa.types.is_string_view(kind)
    )


def grouped(batch: pa.RecordBatch, tables: Tables) -> Columns:
    """The rows of a plain batch by kind."""
    code = np.zeros(batch.num_rows, dtype=np.int64)
    amounts = {}
    for name, column in zip(batch.schema.names, batch.columns, strict=True):
        if pa.types.is_list(column.type):
            part, count = _codes(pa.compute.binary_join(column, "\x00"))
        elif name in DIMENSION_OF:
            amounts[name] = _amounts(column, batch.schema.field(name))
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
    """Names count as far as their words say something; their numbers say nothing. One that cannot
    be is looked at by itself.
    """
    encoded = column.cast(pa.string()).dictionary_encode()
    speaks: dict[str, bool] = {}
    classes = {"": 0}
    of = [0]
    for name in encoded.dictionary.to_pylist():
        plain = _DIGITS.sub("0", name)
        if plain not in speaks:
            speaks[plain] = (
                without_controls(plain) != plain
                or bool(scan(tables, plain, "name"))
                or bool(unread(tables, plain))
            )
        if len(name) > LONGEST_TEXT:
            of.append(classes.setdefault(name, len(classes)))
        else:
            of.append(classes.setdefault(plain, len(classes)) if speaks[plain] else 0)
    numbers = encoded.indices.fill_null(-1).to_numpy(zero_copy_only=False) + 1
    return np.array(of, dtype=np.int64)[numbers], len(classes)


def _amounts(column: pa.Array, field: pa.Field) -> Amounts:
    unit = (field.metadata or {}).get(b"unit", b"").decode()
    dimension = DIMENSION_OF[field.name]
    if pa.types.is_integer(column.type) or pa.types.is_floating(column.type):
        values = column.cast(pa.float64()).to_numpy(zero_copy_only=False)
        factor = 1.0 if not dimension else _factor(unit, dimension, field.name)
        stated = np.where(np.isnan(values), 0, 1)
        if field.name == "pieces.count":
            values = np.where(values == np.floor(values), values, np.nan)
        return Amounts(values * factor, stated.astype(np.int64))
    encoded = column.dictionary_encode()
    ranges: dict[tuple[float, float] | None, int] = {None: 1}
    mids, classes = [np.nan], [0]
    for text in encoded.dictionary.to_pylist():
        mid, part = _read(text, field.name)
        mids.append(mid)
        # what says nothing, or cannot be read, is looked at as it stands
        classes.append(0 if not text.strip() else ranges.setdefault(part, len(ranges) + 1))
    numbers = encoded.indices.fill_null(-1).to_numpy(zero_copy_only=False) + 1
    return Amounts(np.array(mids)[numbers], np.array(classes, dtype=np.int64)[numbers])


def _read(text: str, name: str) -> tuple[float, tuple[float, float] | None]:
    """The middle of an amount, and the range that is stated as parts of it."""
    if name in _COUNTS:
        return float(text) if _COUNTS[name].fullmatch(text) else np.nan, None
    try:
        measured = read_quantity(text, DIMENSION_OF[name])
    except Refused:
        return np.nan, None
    if measured.low is None or measured.high is None or not measured.mid > 0:
        return measured.mid, None
    low, high = (float(f"{end / measured.mid:.12g}") for end in (measured.low, measured.high))
    return measured.mid, (low, high)


def _factor(unit: str, dimension: str, name: str) -> float:
    try:
        one = read_quantity(f"1 {unit}", dimension)
        expected = ""
    except Refused as why:
        one, expected = None, f" {why.expected}"
    if one is None or one.low is not None:
        what = f"the numbers of `{name}` have no unit that is known here"
        remedy = "Give the field's metadata a unit, for instance {'unit': 'kg'}."
        raise InputError([Problem("no-unit", what, f"{remedy}{expected}", name)])
    return one.mid


def cell_text(value: Any, field: pa.Field) -> Any:
    """A cell as a person would write it: a number with the unit of its column."""
    unit = (field.metadata or {}).get(b"unit", b"").decode()
    if isinstance(value, (int, float)) and not isinstance(value, bool) and unit:
        return f"{value!r} {unit}"
    return value
