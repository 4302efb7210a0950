"""Char into compost: how much of what, how wet, which C:N, how large the heap, how long until it is
used.

Volumes are heaped and before mixing, masses as they lie. The char's own carbon and nitrogen do not
count, its water and volume do.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, Literal

from ..errors import InputError, Problem, shown
from ..estimate import Door, Estimate, Measured
from ..figures import Figure, Input, Origin, Step, figures, formula
from ..physics import mixing
from ..physics.mixing import WATER, Ingredient, NoMixError
from ..results_after import Blend, BlendPart, Suggestion
from ..tables import Tables, load_tables
from ..tables.methods import Instruments
from ..tables.methods_after import Compost
from ..tables.methods_quality import CompostPractice
from ..tables.schema import Cell
from ..units import Refused
from .given import (
    CharGiven,
    CompostGiven,
    Known,
    char_given,
    char_inputs,
    compost_given,
    known_material,
    said_input,
)
from .quality import row_sources

OFFERED = (
    ("straw", "carbon"),
    ("leaves", "carbon"),
    ("grass clippings", "nitrogen"),
    ("poultry litter", "nitrogen"),
)
"""What is suggested where nothing at hand will do: dry matter rich in carbon, and matter rich in
nitrogen.
"""


@formula("dry mass of heaped char", "identity", volume="m^3", density="kg/m^3", result="kg")
def _dry(volume: Any, density: Any) -> Any:
    return volume * density


@formula("mass as it lies", "identity, m_dry / (1 - w)", dry="kg", wet="1", result="kg")
def _lying(dry: Any, wet: Any) -> Any:
    return dry / (1.0 - wet)


@formula(
    "heaped volume", "identity, m (1 - w) / rho", mass="kg", wet="1", density="kg/m^3", result="m^3"
)
def _heaped(mass: Any, wet: Any, density: Any) -> Any:
    return mass * (1.0 - wet) / density


def _plain(function: Callable[..., Any], name: str, **units: str) -> Callable[..., Any]:
    """A function of arithmetic as a formula of its own, so that an explanation can name it."""

    def step(*values: Any) -> Any:
        return function(*values)

    return formula(name, "identity", **units)(step)


_TIMES = _plain(operator.mul, "product")
_OVER = _plain(operator.truediv, "quotient")


def _sum(*values: Any) -> Any:
    return sum(values[1:], start=values[0])


_SUM = _plain(_sum, "sum")


_WEEK = 604800.0


def blend(
    char: Any,
    parts: Sequence[Any] = (),
    fraction: Any = None,
    *,
    by: Literal["volume", "mass"] = "volume",
    tables: Tables | None = None,
) -> Blend:
    """Char in compost: what to gather for a wanted share, or the share that is reached with what is
    at hand.

    `char` is a volume (`60 L`), a mapping (`mass` with `moisture`, `density`), an `Estimate` or an
    appraisal. `parts` are names, pairs (name, volume) or mappings (`material`, `volume` or `mass`,
    and at will `moisture`, `nitrogen`, `carbon_to_nitrogen`, `density`). `fraction` is the wanted
    share of char (`15 %`, `10 to 20 %`, or the words `least` and `usual`), of the heaped volumes
    or, with `by="mass"`, of the dry mass; the amounts of the parts then only say in which
    proportion they are taken. Without it the share follows from the parts, or is the default where
    they have no amounts. Raises FeedstockError for unknown materials, wet char without moisture, a
    share outside 0 to 1.
    """
    tables = tables if tables is not None else load_tables()
    given = char_given(char, tables)
    compost = _parts(parts)
    known = [known_material(part, index, tables) for index, part in enumerate(compost)]
    amounts = [_amount(part, each) for part, each in zip(compost, known, strict=True)]
    _check_amounts(amounts)
    at_hand = bool(amounts) and all(each is not None for each in amounts)
    share, wanted, notes = _wanted(fraction, at_hand, by, tables)
    inputs, steps = _graph(given, compost, known, amounts, share, by, tables)
    names = _wanted_names(len(known))
    found = figures(
        tuple(steps),
        inputs,
        [
            name
            for name in names
            if any(step.output == name for step in steps)
            or any(each.name == name for each in inputs)
        ],
    )
    return _result(
        found,
        known,
        wanted,
        by,
        at_hand,
        sum(each for each in amounts if each is not None),
        tables,
        notes,
    )


def _parts(parts: Sequence[Any]) -> list[CompostGiven]:
    out, problems = list[CompostGiven](), list[Problem]()
    for index, part in enumerate([parts] if isinstance(parts, (str, Mapping)) else parts):
        try:
            out.append(compost_given(part, index))
        except InputError as why:
            problems += why.problems
    if problems:
        raise InputError(problems)
    return out or [CompostGiven(material="garden compost")]


def _amount(part: CompostGiven, known: Known) -> float | None:
    """Heaped volume, m3, at the middle; None where no amount was given."""
    if part.volume is not None:
        return part.volume.mid
    return float(part.mass.mid / known.density.mid) if part.mass is not None else None


def _check_amounts(amounts: Sequence[float | None]) -> None:
    if any(each is None for each in amounts) and any(each is not None for each in amounts):
        index = next(i for i, each in enumerate(amounts) if each is None)
        raise InputError(
            [
                Problem(
                    "no-amount",
                    "some parts have an amount and this one has none",
                    "Give every part a volume or a mass, or none of them.",
                    f"parts[{index}]",
                )
            ]
        )


def _wanted(
    fraction: Any, at_hand: bool, by: str, tables: Tables
) -> tuple[Input | None, str | None, list[str]]:
    """The wanted share as an input; None where it follows from what is at hand."""
    full, method = tables.method("compost", Compost)
    practice_full, practice = tables.method("compost-practice", CompostPractice)
    if by not in ("volume", "mass"):
        raise InputError(
            [
                Problem(
                    "unknown-word",
                    f"'{shown(str(by))}' is not a way to count a share",
                    "Write volume or mass.",
                    "by",
                )
            ]
        )
    if fraction is None:
        if at_hand:
            return None, None, []
        name = "char_by_volume" if by == "volume" else "char_by_dry_mass"
        cell = getattr(method, name)
        return _of_cell(cell, tables, full, name), f"{_percent(cell)} by {by} (default)", []
    if fraction in ("least", "usual"):
        cell = getattr(practice, f"asked_{fraction}")
        return (
            _of_cell(cell, tables, practice_full, f"asked_{fraction}"),
            f"{100 * cell.mid:.0f} % by {by}",
            [f"{100 * cell.mid:.0f} % is common practice, no source"],
        )
    share = _share(fraction)
    most = method.char_by_volume_most.mid
    notes = (
        []
        if by == "mass" or share.mid <= most
        else [f"More than {100 * most:.0f} % char by volume is outside the trials that were read"]
    )
    return (
        said_input("fraction", share, "logit", 0.0, "blend:fraction"),
        f"{share.text} by {by}",
        notes,
    )


def _share(fraction: Any) -> Measured:
    if isinstance(fraction, (int, float)) and not isinstance(fraction, bool):
        fraction = f"{100 * fraction:.12g} %" if math.isfinite(fraction) else str(fraction)
    try:
        door = Door(
            "share",
            above=0,
            below=1,
            why="Write a share of char above 0 % and below 100 %, for instance 15 %.",
        )
        said = door.read(fraction)
        door.check(said)
    except Refused as why:
        raise InputError([Problem(why.code, why.what, why.expected, "fraction")]) from None
    return said


def _percent(cell: Cell) -> str:
    return f"{100 * cell.low:.0f} to {100 * cell.high:.0f} %"


def _of_cell(cell: Cell, tables: Tables, full: str, name: str) -> Input:
    return Input(
        "fraction",
        cell.low,
        cell.mid,
        cell.high,
        cell.scale,
        f"row:{full.replace(':', '/', 1)}/{name}",
        tables.origin("methods", full, (name,), cell),
    )


def _graph(
    given: CharGiven,
    compost: Sequence[CompostGiven],
    known: Sequence[Known],
    amounts: Sequence[float | None],
    share: Input | None,
    by: str,
    tables: Tables,
) -> tuple[list[Input], list[Step]]:
    inputs = [*char_inputs(given, tables), *(each for part in known for each in part.inputs)]
    steps: list[Step] = []
    if given.volume is None:
        steps += [
            Step("char_volume", _heaped, ("char_lying", "char_moisture", "char_density")),
            Step("char_dry", _dry, ("char_volume", "char_density")),
        ]
    else:
        steps += [
            Step("char_dry", _dry, ("char_volume", "char_density")),
            Step("char_lying", _lying, ("char_dry", "char_moisture")),
        ]
    if share is None:
        _as_at_hand(compost, inputs, steps, tables.method("instruments", Instruments)[1])
    else:
        inputs.append(share)
        _as_wanted(known, amounts, by, inputs, steps)
    _mix(len(known), inputs, steps, tables)
    return inputs, steps


def _as_at_hand(
    compost: Sequence[CompostGiven], inputs: list[Input], steps: list[Step], tools: Instruments
) -> None:
    for i, part in enumerate(compost):
        if part.volume is not None:
            inputs.append(
                said_input(
                    f"part{i}_volume",
                    part.volume,
                    "log",
                    tools.volume.mid,
                    f"part:{i}:amount",
                    "m^3",
                )
            )
            steps.append(Step(f"part{i}_mass", _TIMES, (f"part{i}_volume", f"part{i}_density")))
        else:
            assert part.mass is not None
            inputs.append(
                said_input(
                    f"part{i}_mass", part.mass, "log", tools.scale.mid, f"part:{i}:amount", "kg"
                )
            )
            steps.append(Step(f"part{i}_volume", _OVER, (f"part{i}_mass", f"part{i}_density")))
    steps.append(
        Step("compost_needed", _SUM, tuple(f"part{i}_volume" for i in range(len(compost))))
    )


def _as_wanted(
    known: Sequence[Known],
    amounts: Sequence[float | None],
    by: str,
    inputs: list[Input],
    steps: list[Step],
) -> None:
    """Volumes for the wanted share, the parts in the proportion of what was given (equal ones where
    nothing was).
    """
    volumes = [each if each is not None else 1.0 for each in amounts]
    whole = sum(volumes)
    for i, volume in enumerate(volumes):
        share = volume / whole
        inputs.append(
            Input(
                f"part{i}_share",
                share,
                share,
                share,
                "linear",
                f"exact:part{i}_share",
                Origin("field", "proportion of the parts"),
            )
        )
    if by == "mass":
        # dry bulk density of the mixed parts turns the share of dry mass into one of volume
        for i in range(len(known)):
            steps.append(
                Step(
                    f"part{i}_dry_density",
                    _dry_density,
                    (f"part{i}_density", f"part{i}_moisture", f"part{i}_share"),
                )
            )
        steps.append(
            Step("compost_density", _SUM, tuple(f"part{i}_dry_density" for i in range(len(known))))
        )
        steps.append(
            Step(
                "fraction_by_volume",
                mixing.volume_share,
                ("fraction", "char_density", "compost_density"),
                "logit",
            )
        )
    steps.append(
        Step(
            "compost_needed",
            mixing.rest_for,
            ("char_volume", "fraction_by_volume" if by == "mass" else "fraction"),
        )
    )
    for i in range(len(known)):
        steps.append(Step(f"part{i}_volume", _TIMES, ("compost_needed", f"part{i}_share")))
        steps.append(Step(f"part{i}_mass", _TIMES, (f"part{i}_volume", f"part{i}_density")))


@formula(
    "dry mass of a part per volume of the mix",
    "identity, rho (1 - w) share",
    density="kg/m^3",
    wet="1",
    share="1",
    result="kg/m^3",
)
def _dry_density(density: Any, wet: Any, share: Any) -> Any:
    return density * (1.0 - wet) * share


def _mix(count: int, inputs: list[Input], steps: list[Step], tables: Tables) -> None:
    full, practice = tables.method("compost-practice", CompostPractice)
    method_full, method = tables.method("compost", Compost)
    for name, cell, source in (
        ("shrinks", practice.shrinks, full),
        ("aim_moisture", practice.aim_moisture, full),
        ("usable_carbon", method.usable_carbon, method_full),
        ("critical_ratio", method.critical_ratio, method_full),
    ):
        mid = name == "aim_moisture"
        inputs.append(
            Input(
                name,
                cell.mid if mid else cell.low,
                cell.mid,
                cell.mid if mid else cell.high,
                cell.scale,
                f"row:{source.replace(':', '/', 1)}/{name}",
                tables.origin("methods", source, (name,), cell),
            )
        )
    parts = range(count)
    each = ("mass", "moisture", "nitrogen", "ratio")
    mixed = tuple(f"part{i}_{name}" for i in parts for name in each)
    steps += [
        Step("volume", _SUM, ("char_volume", *(f"part{i}_volume" for i in parts))),
        Step("mass", _SUM, ("char_lying", *(f"part{i}_mass" for i in parts))),
        Step("moisture", _mix_moisture, ("char_lying", "char_moisture", *mixed), "logit"),
        Step(
            "water_to_add",
            _water,
            ("char_lying", "char_moisture", "aim_moisture", *mixed),
            "linear",
        ),
        Step("ratio", _mix_ratio, mixed),
        Step("tied_up", _tied, ("usable_carbon", "critical_ratio", *mixed), "linear"),
        Step("dry_of_parts", _dry_parts, mixed),
        Step("char_share", _share_of, ("char_volume", "volume"), "logit"),
        Step("char_share_mass", _share_of_two, ("char_dry", "dry_of_parts"), "logit"),
        Step("volume_when_used", _shrunk, ("char_volume", "compost_needed", "shrinks")),
    ]


def _rows(values: Sequence[Any]) -> list[tuple[Any, Any, Any, Any]]:
    """(mass, moisture, nitrogen, carbon of dry matter) of each part."""
    return [
        (values[i], values[i + 1], values[i + 2], values[i + 2] * values[i + 3])
        for i in range(0, len(values), 4)
    ]


@formula(
    "moisture of the mix with char",
    mixing.mix_moisture.formula.reference,
    char="kg",
    wet="1",
    result="1",
)  # type: ignore[attr-defined]
def _mix_moisture(char: Any, wet: Any, *parts: Any) -> Any:
    rows = _rows(parts)
    return mixing.mix_moisture([char, *(r[0] for r in rows)], [wet, *(r[1] for r in rows)])


@formula(
    "water to add",
    "identity, sum(Q (G - M)) / (1 - G)",
    char="kg",
    wet="1",
    target="1",
    result="kg",
)
def _water(char: Any, wet: Any, target: Any, *parts: Any) -> Any:
    rows = _rows(parts)
    return mixing.water_to_add([char, *(r[0] for r in rows)], [wet, *(r[1] for r in rows)], target)


@formula("C:N of the mix without char", mixing.mix_ratio.formula.reference, result="1")  # type: ignore[attr-defined]
def _mix_ratio(*parts: Any) -> Any:
    rows = _rows(parts)
    return mixing.mix_ratio(
        [r[0] for r in rows], [r[1] for r in rows], [r[3] for r in rows], [r[2] for r in rows]
    )


@formula(
    "nitrogen tied up by the mix",
    "balance against the C:N at which microbes neither take nor give",
    usable="1",
    critical="1",
    result="kg",
)
def _tied(usable: Any, critical: Any, *parts: Any) -> Any:
    rows = _rows(parts)
    return mixing.nitrogen_tied_up(
        sum(q * (1 - w) * c for q, w, _, c in rows),
        sum(q * (1 - w) * n for q, w, n, _ in rows),
        usable,
        critical,
    )


@formula("dry mass of the parts", "identity", result="kg")
def _dry_parts(*parts: Any) -> Any:
    return sum(q * (1 - w) for q, w, _, _ in _rows(parts))


@formula("share of char", "identity", char="m^3", whole="m^3", result="1")
def _share_of(char: Any, whole: Any) -> Any:
    return char / whole


@formula("share of char in dry mass", "identity", char="kg", rest="kg", result="1")
def _share_of_two(char: Any, rest: Any) -> Any:
    return char / (char + rest)


@formula(
    "volume when it is used",
    "identity: the compost shrinks, the char does not",
    char="m^3",
    compost="m^3",
    shrinks="1",
    result="m^3",
)
def _shrunk(char: Any, compost: Any, shrinks: Any) -> Any:
    return char + compost * (1.0 - shrinks)


def _wanted_names(count: int) -> list[str]:
    return [
        "char_volume",
        "char_lying",
        "char_dry",
        "char_moisture",
        "compost_needed",
        "volume",
        "mass",
        "moisture",
        "water_to_add",
        "ratio",
        "tied_up",
        "char_share",
        "char_share_mass",
        "volume_when_used",
        "dry_of_parts",
    ] + [
        f"part{i}_{name}"
        for i in range(count)
        for name in ("volume", "mass", "moisture", "ratio", "nitrogen")
    ]


def shown_as(figure: Figure, unit: str, factor: float) -> Estimate:
    """A figure in its public unit, never below nothing."""
    low, high = figure.ends
    mid = max(float(figure.mid), 0.0)
    return Estimate(max(min(low, mid), 0.0) * factor, mid * factor, max(high, mid) * factor, unit)


def _result(
    found: dict[str, Figure],
    known: Sequence[Known],
    wanted: str | None,
    by: str,
    at_hand: bool,
    there: float,
    tables: Tables,
    notes: list[str],
) -> Blend:
    full, practice = tables.method("compost-practice", CompostPractice)
    method_full, method = tables.method("compost", Compost)

    def litres(name: str) -> Estimate:
        return shown_as(found[name], "L", 1000)

    def part(name: str, prefix: str, ratio: bool) -> BlendPart:
        lying = "char_lying" if prefix == "char" else f"{prefix}_mass"
        return BlendPart(
            name=name,
            volume=litres(f"{prefix}_volume"),
            mass=shown_as(found[lying], "kg", 1),
            moisture=shown_as(found[f"{prefix}_moisture"], "%", 100),
            carbon_to_nitrogen=shown_as(found[f"{prefix}_ratio"], "1", 1) if ratio else None,
        )

    shape, height, width, length = pile(float(found["volume"].mid), practice)
    used, crushed = practice.until_used, practice.crushed
    return Blend(
        char=part("char", "char", False),
        parts=tuple(part(each.name, f"part{i}", True) for i, each in enumerate(known)),
        wanted=wanted,
        char_share=shown_as(found["char_share"], "%", 100),
        char_share_mass=shown_as(found["char_share_mass"], "%", 100),
        compost_needed=litres("compost_needed"),
        volume=litres("volume"),
        mass=shown_as(found["mass"], "kg", 1),
        moisture=shown_as(found["moisture"], "%", 100),
        water_to_add=shown_as(found["water_to_add"], "L", 1),
        carbon_to_nitrogen=shown_as(found["ratio"], "1", 1),
        nitrogen_tied_up=shown_as(found["tied_up"], "kg", 1),
        suggestion=_suggestion(found, known, practice, tables),
        shape=shape,
        height=height,
        width=width,
        length=length,
        volume_when_used=litres("volume_when_used"),
        until_used=Estimate(used.low / _WEEK, used.mid / _WEEK, used.high / _WEEK, "week"),
        crush_to=Estimate(1000 * crushed.low, 1000 * crushed.mid, 1000 * crushed.high, "mm"),
        remarks=tuple(_remarks(found, method, wanted is not None and at_hand, there)),
        notes=tuple(notes),
        sources=tuple(
            dict.fromkeys(
                (*row_sources(method, tables, method_full), *row_sources(practice, tables, full))
            )
        ),
    )


def _remarks(
    found: dict[str, Figure], method: Compost, recipe: bool, there: float
) -> Iterable[str]:
    yield "Char is no food for microbes: its carbon is not in the C:N."
    yield (
        "Raw char does not go straight into a bed; it is charged in compost first, since "
        "it takes up nitrogen and water before it gives any."
    )
    need = float(found["compost_needed"].mid)
    if recipe and there < need * (1 - 1e-9):
        yield (
            f"At hand are about {1000 * there:.0f} L of compost materials; about "
            f"{1000 * (need - there):.0f} L more are needed for this share."
        )
    elif recipe and there > need * (1 + 1e-9):
        yield (
            f"At hand are about {1000 * there:.0f} L of compost materials; about "
            f"{1000 * need:.0f} L of them are needed for this share."
        )
    density = float(found["mass"].mid / found["volume"].mid)
    if density > method.bulk_density_most.mid:
        yield (
            f"The mix lies at about {density:.0f} kg/m^3, denser than the "
            f"{method.bulk_density_most.mid:.0f} at which air still gets in: add coarse, "
            "dry stuff."
        )
    if float(found["tied_up"].mid) > 0:
        yield (
            "It may tie up nitrogen at first: urine, manure or fresh grass give it back, "
            "or let it lie longer."
        )
    top = method.moisture_acceptable.high
    if float(found["moisture"].mid) > top:
        yield (
            f"Wetter than {100 * top:.0f} %: it will lack air; mix in something dry, or "
            "let the char drain."
        )


def pile(
    volume: float, practice: CompostPractice
) -> tuple[str, Estimate, Estimate, Estimate | None]:
    """Shape, height, width and length of a heap that stands by itself: a cone, or a windrow where
    there is enough for one as long as it is wide.
    """
    slope, width = practice.slope, practice.windrow_width
    if 2 * volume / (width.mid * slope.mid * width.mid / 2) < width.mid:
        low, mid, high = (
            2 * (3 * volume / (math.pi * each)) ** (1 / 3)
            for each in (slope.high, slope.mid, slope.low)
        )
        return (
            "cone",
            Estimate(slope.low * high / 2, slope.mid * mid / 2, slope.high * low / 2, "m"),
            Estimate(low, mid, high, "m"),
            None,
        )
    # a wide heap may be low, a narrow one steep: the height is that of the slopes, the length
    # follows from both
    sections = [
        slope.low * width.low**2 / 4,
        slope.mid * width.mid**2 / 4,
        slope.high * width.high**2 / 4,
    ]
    return (
        "windrow",
        Estimate(
            slope.low * width.low / 2, slope.mid * width.mid / 2, slope.high * width.high / 2, "m"
        ),
        Estimate(width.low, width.mid, width.high, "m"),
        Estimate(volume / sections[2], volume / sections[1], volume / sections[0], "m"),
    )


# --- what would bring it to both targets ----------------------------------------------------------


def _suggestion(
    found: dict[str, Figure], known: Sequence[Known], practice: CompostPractice, tables: Tables
) -> Suggestion:
    """The amounts of two materials that meet C:N and moisture, by linear solution; of the pairs
    that can, the one with the least to add.
    """
    ratio, wet = practice.aim_ratio, practice.aim_moisture
    mine = [
        (each.name, Ingredient(each.moisture.mid, *_carbon(each)), each.density.mid)
        for each in known
    ]
    given = [
        (float(found["char_lying"].mid), mixing.char(float(found["char_moisture"].mid))),
        *((float(found[f"part{i}_mass"].mid), one) for i, (_, one, _) in enumerate(mine)),
    ]
    now, moist = float(found["ratio"].mid), float(found["moisture"].mid)
    aim = (
        f"C:N {ratio.low:.0f} to {ratio.high:.0f} and {100 * wet.low:.0f} to "
        f"{100 * wet.high:.0f} % moisture"
    )
    done = tables.method("compost", Compost)[1].ratio_finished.high
    if now <= done:
        return Suggestion(
            reaches=False,
            text=f"At a C:N of about {now:.0f} this is finished compost: it charges the "
            "char by lying with it, moist, and does not heat. To compost anew add "
            "something rich in carbon.",
        )
    if ratio.low <= now <= ratio.high and wet.low <= moist <= wet.high:
        return Suggestion(reaches=True, text=f"It is at {aim} as it is.")
    water = ("water", WATER, 1000.0)
    offered = [
        (each.name, Ingredient(each.moisture.mid, *_carbon(each)), each.density.mid)
        for name, _ in OFFERED
        if name not in {m[0] for m in mine}
        for each in (known_material(CompostGiven(material=name), 0, tables),)
    ]
    if ratio.low <= now <= ratio.high and moist < wet.low:
        litres = mixing.water_to_add(
            [q for q, _ in given], [one.moisture for _, one in given], wet.mid
        )
        return Suggestion(
            reaches=True,
            add=(("water", litres, litres),),
            text=f"The C:N does; water brings it to {aim}.",
        )
    why, best = "", list[tuple[float, tuple[tuple[str, float, float], ...]]]()
    pairs = [
        *((one, water) for one in mine),
        *((a, b) for i, a in enumerate(mine) for b in mine[i + 1 :]),
        *((one, water) for one in offered),
        *((a, b) for a in mine for b in offered),
        *((a, b) for i, a in enumerate(offered) for b in offered[i + 1 :]),
    ]
    for first, second in pairs:
        try:
            amounts = mixing.solve_two(given, first[1], second[1], ratio.mid, wet.mid)
        except NoMixError as reason:
            why = why or str(reason)
            continue
        add = tuple(
            (name, mass, 1000 * mass / density)
            for (name, _, density), mass in zip((first, second), amounts, strict=True)
            if mass > 1e-9
        )
        best.append((sum(amounts), add))
    if best:
        return Suggestion(
            reaches=True,
            add=min(best)[1],
            text="Of what solves for both this is the least to add; it brings the mix to "
            f"{aim}, and the share of char falls with it.",
        )
    return Suggestion(reaches=False, text=f"No two of the materials bring it to {aim}: {why}.")


def _carbon(each: Known) -> tuple[float, float]:
    assert each.nitrogen is not None
    assert each.ratio is not None
    return float(each.nitrogen.mid * each.ratio.mid), float(each.nitrogen.mid)
