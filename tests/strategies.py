"""Random lots, heaps and burns over the materials of the reference tables, in ranges that a garden
knows.

A lot is drawn as a plain dict of the fields of `Lot`, in which every quantity is a `Q`; `written`
turns it into text in metric or in US units, so that the same lot can be said in both. Nothing here
imports a test.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from builders import tables
from feedstock import Burn, Heap, Lot
from feedstock.tables.rows.contaminant import Clears
from feedstock.tables.rows.material import Material

Spec = dict[str, Any]


def examples(part: float) -> settings:
    """So large a part of the examples that the profile in use draws: less than the whole for a test
    that appraises whole heaps, more for one that only reads a text.
    """
    return settings(
        max_examples=max(5, round(part * settings().max_examples)),
        suppress_health_check=[
            HealthCheck.too_slow,
            HealthCheck.filter_too_much,
            HealthCheck.data_too_large,
            HealthCheck.function_scoped_fixture,
        ],
    )


# exact by definition: international pound and inch, US gallon of 231 cubic inches
POUND, INCH, US_GALLON = 0.45359237, 0.0254, 231 * 0.0254**3
METRIC = {
    "mass": ("kg", 1.0),
    "length": ("mm", 0.001),
    "volume": ("L", 0.001),
    "density": ("kg/m^3", 1.0),
}
US = {
    "mass": ("lb", POUND),
    "length": ("in", INCH),
    "volume": ("US gal", US_GALLON),
    "density": ("lb/ft^3", POUND / (12 * INCH) ** 3),
}


@dataclass(frozen=True)
class Q:
    """A quantity in SI; with `low` and `high` the person's own range.

    `kind` may also be `temperature`, `share` or `moisture` (wet basis).
    """

    kind: str
    mid: float
    low: float | None = None
    high: float | None = None

    def scaled(self, factor: float) -> Q:
        return Q(
            self.kind,
            self.mid * factor,
            None if self.low is None else self.low * factor,
            None if self.high is None else self.high * factor,
        )

    def text(self, us: bool) -> str:
        if self.kind == "temperature":
            return (
                self._text(lambda v: v * 9 / 5 + 32, "degF")
                if us
                else self._text(lambda v: v, "degC")
            )
        if self.kind == "share":
            return self._text(lambda v: 100 * v, "%")
        if self.kind == "moisture":
            return self._moisture(us)
        unit, factor = (US if us else METRIC)[self.kind]
        return self._text(lambda v: v / factor, unit)

    def _moisture(self, us: bool) -> str:
        """In wet basis for metric, the same water in dry basis for US units."""
        if self.low is None or self.high is None:
            return (
                f"{100 * self.mid / (1 - self.mid)!r} % dry" if us else f"{100 * self.mid!r} % wet"
            )
        if not us:
            return f"{100 * self.low!r} to {100 * self.high!r} % wet"
        # the middle of a written range is half-way, which is not half-way on the other basis; with
        # fifteen digits the text keeps within 80 characters
        low, mid, high = (
            100 * v / (1 - v) for v in (self.low, (self.low + self.high) / 2, self.high)
        )
        return f"{low:.15g} to {high:.15g} % dry, likely {mid:.15g}"

    def _text(self, number: Any, unit: str) -> str:
        if self.low is None or self.high is None:
            return f"{number(self.mid)!r} {unit}"
        # twelve digits: a text of more than 80 characters is refused
        return (
            f"{number(self.low):.12g} to {number(self.high):.12g} {unit}, likely "
            f"{number(self.mid):.12g}"
        )


def written(spec: Any, us: bool = False) -> Any:
    """The fields with every quantity as text."""
    if isinstance(spec, Q):
        return spec.text(us)
    if isinstance(spec, Mapping):
        return {key: written(value, us) for key, value in spec.items()}
    if isinstance(spec, (list, tuple)):
        return [written(value, us) for value in spec]
    return spec


def lot_of(spec: Spec, us: bool = False) -> Lot:
    return Lot(**written(spec, us))


def heap_of(specs: list[Spec], us: bool = False) -> Heap:
    return Heap(lots=[lot_of(spec, us) for spec in specs])


def named(specs: list[Spec]) -> list[Spec]:
    """The same lots, each with a name of its own, so that a further lot changes no other lot's
    name.
    """
    return [{**spec, "name": f"lot {number}"} for number, spec in enumerate(specs)]


@cache
def materials(*classes: str) -> tuple[str, ...]:
    """Full names of the materials of these classes; of all without any."""
    rows = tables().rows["materials"]
    return tuple(
        name
        for name, row in rows.items()
        if isinstance(row, Material) and (not classes or row.class_ in classes)
    )


@cache
def clearing_signs() -> frozenset[str]:
    """Signs that may lower a suspicion: those of a `when` of the clearing rows."""
    found = [
        tables().find("signs", sign)
        for row in tables().rows["clears"].values()
        if isinstance(row, Clears)
        for sign in row.when.signs
    ]
    return frozenset(found)


@cache
def dangerous_signs() -> tuple[str, ...]:
    return tuple(sorted(set(tables().rows["signs"]) - clearing_signs()))


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    """A number of a few digits."""
    return (
        st.floats(low, high, allow_nan=False, allow_infinity=False)
        .map(lambda v: float(f"{v:.4g}"))
        .filter(lambda v: low <= v <= high)
    )


@st.composite
def quantities(draw: st.DrawFn, kind: str, low: float, high: float, ranges: bool = True) -> Q:
    mid = draw(numbers(low, high))
    if not ranges or not draw(st.booleans()):
        return Q(kind, mid)
    return Q(kind, mid, mid * draw(numbers(0.6, 0.98)), mid * draw(numbers(1.02, 1.6)))


# limits at which a piece counts as thick or thin stand at 3, 10 and 15 mm; a length in inches may
# round to either side of them
thicknesses = numbers(0.0012, 0.2).filter(
    lambda v: all(abs(v - edge) > 1e-5 for edge in (0.003, 0.010, 0.015))
)


@st.composite
def diameters(draw: st.DrawFn) -> Q:
    mid = draw(thicknesses)
    return (
        Q("length", mid)
        if draw(st.booleans())
        else Q("length", mid, mid * draw(numbers(0.7, 0.97)), mid * draw(numbers(1.03, 1.4)))
    )


@st.composite
def pieces(draw: st.DrawFn, row: Material) -> Spec:
    found: Spec = {"count": draw(st.integers(1, 200)), "length": draw(quantities("length", 0.1, 3))}
    if row.form in ("sawn", "board"):
        found |= {
            "width": draw(quantities("length", 0.021, 0.3)),
            "thickness": draw(diameters().filter(lambda q: q.mid < 0.02)),
        }
    elif draw(st.booleans()):
        top = draw(thicknesses)
        found["diameters"] = [Q("length", top * draw(numbers(1.1, 3))), Q("length", top)]
    else:
        found["diameter"] = draw(diameters())
    if draw(st.integers(0, 4)) == 0:
        found["hollow"] = Q("share", draw(numbers(0.01, 0.5)))
    return found


def packings(row: Material) -> tuple[str, ...]:
    solid = (
        ("stacked", "stacked rounds", "loose", "brush", "chips")
        if row.basic_density is not None
        else ()
    )
    return tuple(dict.fromkeys((*row.bulk_density, *solid)))


@st.composite
def amounts(draw: st.DrawFn, row: Material, ways: tuple[str, ...]) -> Spec:
    usable = [
        way
        for way in ways
        if way == "mass"
        or (way == "pieces" and row.basic_density is not None)
        or (way not in ("mass", "pieces") and packings(row))
    ]
    way = draw(st.sampled_from(usable))
    if way == "mass":
        return {"mass": draw(quantities("mass", 0.5, 500))}
    if way == "pieces":
        return {"pieces": draw(pieces(row))}
    packing = draw(st.sampled_from(packings(row)))
    if way == "volume":
        return {"volume": draw(quantities("volume", 0.02, 6)), "packing": packing}
    if way == "stack":
        shape = draw(
            st.sampled_from(["box", "half cylinder", "half ellipsoid", "paraboloid", "cone"])
        )
        sides = {name: draw(quantities("length", 0.3, 3)) for name in ("width", "length", "height")}
        return {"stack": {"shape": shape, **sides}, "packing": packing}
    return {
        "containers": {
            "count": draw(st.integers(1, 20)),
            "of": draw(st.sampled_from(["wheelbarrow", "bag", "bucket", "trailer"])),
        },
        "packing": packing,
    }


@st.composite
def moistures(draw: st.DrawFn, row: Material) -> Any:
    """All ways of giving a moisture, within what the densest wood can hold."""
    way = draw(
        st.sampled_from(["none", "stated", "range", "reading", "weighed", "air", "condition"])
    )
    if way == "none":
        return None
    if way == "stated":
        return Q("moisture", draw(numbers(0.03, 0.19)))
    if way == "range":
        mid = draw(numbers(0.05, 0.19))
        return Q("moisture", mid, mid * draw(numbers(0.5, 0.95)), mid * draw(numbers(1.05, 1.6)))
    if way == "reading":
        return {
            "reading": Q("moisture", draw(numbers(0.05, 0.19))),
            "by": draw(st.sampled_from(["pin", "pinless", "hay probe", "unknown"])),
        }
    if way == "weighed":
        wet = draw(numbers(0.05, 2))
        return {"wet": Q("mass", wet), "oven_dry": Q("mass", wet * draw(numbers(0.6, 0.97)))}
    if way == "air":
        return {
            "air": {
                "temperature": Q("temperature", draw(numbers(1, 35))),
                "relative_humidity": Q("share", draw(numbers(0.2, 0.92))),
            }
        }
    return {"condition": draw(st.sampled_from(sorted(row.moisture)))}


ALL_WAYS = ("mass", "volume", "pieces", "stack", "containers")


@st.composite
def lots(
    draw: st.DrawFn, ways: tuple[str, ...] = ALL_WAYS, of: tuple[str, ...] = (), clean: bool = False
) -> Spec:
    """The fields of one lot.

    `clean` leaves out signs and takes an origin that raises nothing for what grew there.
    """
    name = draw(st.sampled_from(of or materials()))
    row = tables().material(name)
    spec: Spec = {"material": name, **draw(amounts(row, ways))}
    moisture = draw(moistures(row))
    if moisture is not None:
        spec["moisture"] = moisture
    if draw(st.integers(0, 3)) == 0:
        spec["thickness"] = Q("length", draw(thicknesses))
    if draw(st.integers(0, 3)) == 0:
        spec["soil"] = Q("share", draw(numbers(0.001, 0.4)))
    if row.basic_density is not None and draw(st.integers(0, 2)) == 0:
        spec |= {"decay": draw(st.integers(1, 5)), "lying": draw(st.booleans())}
    if clean:
        return {**spec, "origin": "own garden"}
    spec["origin"] = draw(st.sampled_from(sorted(tables().rows["origins"])))
    spec["signs"] = draw(
        st.lists(st.sampled_from(sorted(tables().rows["signs"])), max_size=4, unique=True)
    )
    if draw(st.integers(0, 3)) == 0:
        spec["year"] = draw(st.integers(1930, 2024))
    return spec


def heaps(least: int = 1, most: int = 5, **how: Any) -> st.SearchStrategy[list[Spec]]:
    return st.lists(lots(**how), min_size=least, max_size=most)


@st.composite
def burns(draw: st.DrawFn, us: bool = False) -> Spec:
    """The fields of a burn."""
    spec: Spec = {"burner": draw(st.sampled_from(sorted(tables().rows["burners"])))}
    if draw(st.booleans()):
        spec["temperature"] = Q("temperature", draw(numbers(380, 780)))
    measures = draw(st.sampled_from(["none", "volume", "sides"]))
    if measures == "volume":
        spec["volume"] = Q("volume", draw(numbers(0.03, 2)))
    elif measures == "sides":
        width = draw(numbers(0.4, 2))
        spec |= {"width": Q("length", width), "depth": Q("length", width * draw(numbers(0.2, 0.5)))}
        if spec["burner"].endswith((":trench", ":pit")):
            spec["length"] = Q("length", width * draw(numbers(1, 3)))
    if draw(st.booleans()):
        spec["vessel"] = draw(
            st.lists(
                st.sampled_from(["galvanised", "painted", "lined", "unknown content"]),
                max_size=2,
                unique=True,
            )
        )
    return spec


def burn_of(spec: Spec, us: bool = False) -> Burn:
    return Burn(**written(spec, us))
