"""Values that no plant can have, and values far from those of their class."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..errors import Problem
from ..physics import char, density
from ..tables.rows.burner import Burner
from ..tables.rows.material import Material
from ..tables.rows.methods.char import WoodChar, YieldCurve
from ..tables.tables import Tables

CLOSURE_ERROR = 0.05
CLOSURE_WARNING = 0.025
STRUCTURE_MOST = 1.05
FAR = 2.5
"""A value beyond this factor outside the span of its class is worth a second look."""

_SUMS = (
    ("volatile matter, fixed carbon and ash", ("volatile_matter", "fixed_carbon", "ash")),
    (
        "carbon, hydrogen, nitrogen, oxygen, sulphur and ash",
        ("carbon", "hydrogen", "nitrogen", "oxygen", "sulphur", "ash"),
    ),
    (
        "carbon, hydrogen, nitrogen, oxygen and ash",
        ("carbon", "hydrogen", "nitrogen", "oxygen", "ash"),
    ),
)
_COMPARED = (
    "basic_density",
    "bark_density",
    "bark_volume",
    "ash",
    "lignin",
    "cellulose",
    "hemicellulose",
    "carbon",
    "hydrogen",
    "oxygen",
    "nitrogen",
    "heating_value",
    "thickness",
    "char_bulk_density",
)


def impossible(
    tables: Tables, sets: Iterable[str], problems: list[Problem], warnings: list[Problem]
) -> None:
    """Append what cannot be in the materials of the named sets: sums that do not close, more
    structure than matter.
    """
    wanted = set(sets)
    for row_id, row in tables.rows["materials"].items():
        assert isinstance(row, Material)
        if _touched(tables, row_id, wanted):
            _sums(tables, row_id, row, problems, warnings)
            _structure(tables, row_id, row, problems)


def _touched(tables: Tables, row_id: str, sets: set[str]) -> bool:
    """Whether a row stands in, or was changed by, one of the sets."""
    return row_id.partition(":")[0] in sets or any(
        where.set in sets and where.row == row_id
        for where in tables.places["materials"].get(row_id, {}).values()
    )


def _problem(
    tables: Tables, row_id: str, field: str, code: str, what: str, expected: str
) -> Problem:
    where = tables.where("materials", row_id, (field,))
    return Problem(
        code,
        what,
        expected,
        f"materials.{row_id.partition(':')[2]}.{field}",
        "",
        where.file or None,
        where.line,
        where.column,
    )


def _sums(
    tables: Tables, row_id: str, row: Material, problems: list[Problem], warnings: list[Problem]
) -> None:
    for words, names in _SUMS:
        cells = [getattr(row, name) for name in names]
        if any(cell is None for cell in cells):
            continue
        total = math.fsum(cell.mid for cell in cells)
        if abs(total - 1) <= CLOSURE_WARNING:
            continue
        into = problems if abs(total - 1) > CLOSURE_ERROR else warnings
        field = next(
            (n for n in names if tables.where("materials", row_id, (n,)).row == row_id), names[0]
        )
        into.append(
            _problem(
                tables,
                row_id,
                field,
                "does-not-close",
                f"{words} add to {100 * total:.1f} % of the dry matter",
                "They must add to 100 % within 2.5: look at the basis (dry, not ash-free).",
            )
        )
        return


def _structure(tables: Tables, row_id: str, row: Material, problems: list[Problem]) -> None:
    parts = [row.lignin, row.cellulose, row.hemicellulose]
    if any(part is None for part in parts):
        return
    total = math.fsum(part.mid for part in parts if part is not None)
    if total > STRUCTURE_MOST:
        problems.append(
            _problem(
                tables,
                row_id,
                "lignin",
                "does-not-close",
                f"lignin, cellulose and hemicellulose add to {100 * total:.0f} % of the dry matter",
                "They add to 105 % at most: look whether one of them is holocellulose.",
            )
        )


def too_dense(tables: Tables, sets: Iterable[str], problems: list[Problem]) -> None:
    """Append what char is denser than its mass balance allows: than its feed at its densest, less
    what goes as gas, in the least volume that a heap keeps.
    """
    wanted = set(sets)
    if not all(tables.has_method(kind) for kind in ("yield-curve", "wood-char")):
        return
    for row_id, row in tables.rows["materials"].items():
        assert isinstance(row, Material)
        cell = row.char_bulk_density
        if cell is None or not row.bulk_density or not _touched(tables, row_id, wanted):
            continue
        feed = max(row.bulk_density.values(), key=lambda packed: packed.mid)
        most = _densest_char(tables, row, feed.mid)
        if most is not None and cell.mid > most:
            problems.append(
                _problem(
                    tables,
                    row_id,
                    "char_bulk_density",
                    "denser-than-its-feed",
                    f"{cell.text[0]} of char is more than {feed.text[0]} of feed can leave",
                    f"Write {most:.0f} kg/m^3 or less, or leave it out: the density of the char "
                    "then follows from that of the feed and its yield.",
                )
            )


def _densest_char(tables: Tables, row: Material, feed: float) -> float | None:
    """The most dry char per heaped volume from `feed` kg/m3, at the temperature of the burner that
    is taken where none is given; None where the curve does not know the class.
    """
    _, curve = tables.method("yield-curve", YieldCurve)
    _, heap = tables.method("wood-char", WoodChar)
    group = curve.groups.get(row.class_ or "")
    if group is None or row.ash is None:
        return None
    name = tables.find("burners", tables.defaults[1].burner)
    burner = tables.row("burners", name, Burner)
    offset, lignin = curve.offsets.get(group), row.lignin or curve.lignin_of.get(group)
    organic = char.organic_yield(
        burner.temperature.mid,
        lignin.mid if lignin is not None else 0.0,
        curve.floor.mid,
        curve.amplitude.mid,
        curve.rate.mid,
        curve.lignin.mid,
        offset.mid if offset is not None else 0.0,
    )
    return float(
        density.by_balance(
            feed, row.ash.mid, burner.ash_kept.mid, organic, 1.0, heap.heap_lost_most.mid
        )
    )


def far_from_class(tables: Tables, sets: Iterable[str], warnings: list[Problem]) -> None:
    """Append a warning for each value of the named sets that lies far outside what the other rows
    of its class have.
    """
    wanted = set(sets)
    spans = _spans(tables)
    for row_id, row in tables.rows["materials"].items():
        assert isinstance(row, Material)
        if not _touched(tables, row_id, wanted):
            continue
        for name in _COMPARED:
            cell = getattr(row, name)
            if (
                cell is None
                or cell.mid <= 0
                or tables.where("materials", row_id, (name,)).set not in wanted
            ):
                continue
            span = spans[row.class_ or "", name]
            if span.count < 4:
                continue
            low, high = span.without(cell.mid)
            if cell.mid < low / FAR or cell.mid > high * FAR:
                warnings.append(
                    _problem(
                        tables,
                        row_id,
                        name,
                        "far-from-class",
                        f"{cell.text[0]} is far from other rows of class {row.class_}",
                        f"Theirs run from {_shown(low, cell.dimension)} to "
                        f"{_shown(high, cell.dimension)}: look at the unit and the "
                        "basis.",
                    )
                )


def against_class(tables: Tables, sets: Iterable[str], warnings: list[Problem]) -> None:
    """Append a warning for each density of the named sets that no other row of its class has, but
    rows of another class of the same form have; and for one in a class whose rows have none.
    """
    wanted = set(sets)
    spans = _densities(tables)
    for row_id, row in tables.rows["materials"].items():
        assert isinstance(row, Material)
        where = tables.where("materials", row_id, ("basic_density",))
        own = where.set in wanted and where.row in (row_id, "")
        if row.basic_density is None or row.class_ is None or not own:
            continue
        text = _class_by_density(row, spans)
        if text:
            code, remedy = "class-against-density", "Look at the class, and at the density."
            warnings.append(_problem(tables, row_id, "basic_density", code, text, remedy))


def _densities(tables: Tables) -> Mapping[tuple[str, str], _Span]:
    """The spans of the basic density by class and form."""
    spans: dict[tuple[str, str], _Span] = {}
    for row in tables.rows["materials"].values():
        assert isinstance(row, Material)
        if row.basic_density is not None:
            key = (row.class_ or "", row.form or "")
            spans.setdefault(key, _Span()).take(row.basic_density.mid)
    return spans


def _class_by_density(row: Material, spans: Mapping[tuple[str, str], _Span]) -> str:
    """Of which other class the density of a row is; nothing where it fits its own."""
    assert row.basic_density is not None
    mid, text = row.basic_density.mid, row.basic_density.text[0]
    low, high = spans[row.class_ or "", row.form or ""].without(mid)
    if low == math.inf:
        alone = not any(
            class_ == row.class_ and span.count > 1 for (class_, _), span in spans.items()
        )
        return f"no other row of class {row.class_} has a basic density" if alone else ""
    if low <= mid <= high:
        return ""
    others = [
        class_
        for (class_, form), span in spans.items()
        if class_ != row.class_ and form == row.form and span.lowest[0] <= mid <= span.highest[0]
    ]
    if not others:
        return ""
    return (
        f"{text} is the density of class {' or '.join(sorted(others))}; other rows of class "
        f"{row.class_} have {_shown(low, 'density')} to {_shown(high, 'density')}"
    )


@dataclass(slots=True)
class _Span:
    """The two lowest and the two highest values of a class, so that one's own can be left out
    without a second look at all.
    """

    count: int = 0
    lowest: tuple[float, float] = (math.inf, math.inf)
    highest: tuple[float, float] = (-math.inf, -math.inf)

    def take(self, value: float) -> None:
        self.count += 1
        first, second = sorted((*self.lowest, value))[:2]
        last, before = sorted((*self.highest, value), reverse=True)[:2]
        self.lowest, self.highest = (first, second), (last, before)

    def without(self, value: float) -> tuple[float, float]:
        """Lowest and highest of the others."""
        return self.lowest[value == self.lowest[0]], self.highest[value == self.highest[0]]


def _spans(tables: Tables) -> Mapping[tuple[str, str], _Span]:
    spans: dict[tuple[str, str], _Span] = {}
    for row in tables.rows["materials"].values():
        assert isinstance(row, Material)
        for name in _COMPARED:
            cell = getattr(row, name)
            if cell is not None and cell.mid > 0:
                spans.setdefault((row.class_ or "", name), _Span()).take(cell.mid)
    return spans


def _shown(value: float, dimension: str) -> str:
    if dimension == "share":
        return f"{100 * value:.3g} %"
    unit = {"density": " kg/m^3", "specific energy": " MJ/kg", "length": " mm"}.get(dimension, "")
    factor = {"specific energy": 1e-6, "length": 1e3}.get(dimension, 1.0)
    return f"{value * factor:.3g}{unit}"
