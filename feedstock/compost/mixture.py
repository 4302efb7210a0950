"""The graph of a mixture."""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Sequence
from typing import Any

from ..physics import mixing
from ..tables.inputs import cell_input
from ..tables.rows.methods.amount import Instruments
from ..tables.rows.methods.char import WoodChar
from ..tables.rows.methods.compost import Compost, CompostPractice
from ..tables.tables import Tables
from ..uncertainty.elementwise import total
from ..uncertainty.formula import formula, formula_of
from ..uncertainty.graph import Step
from ..uncertainty.inputs import Input, Origin, exact_input
from ..uncertainty.keys import compost_key
from .inputs import CharGiven, CompostGiven, Known, char_inputs, measured_input


@formula("mass as it lies", "identity, m_dry / (1 - w)", dry="kg", wet="1", result="kg")
def _lying(dry: Any, wet: Any) -> Any:
    return dry / (1.0 - wet)


def _plain(function: Callable[..., Any], name: str, **units: str) -> Callable[..., Any]:
    """A function of arithmetic as a formula of its own, so that an explanation can name it."""

    def step(*values: Any) -> Any:
        return function(*values)

    return formula(name, "identity", **units)(step)


_TIMES = _plain(operator.mul, "product")


_OVER = _plain(operator.truediv, "quotient")


def _sum(*values: Any) -> Any:
    return total(values)


_SUM = _plain(_sum, "sum")


WEEK = 604800.0


def mix_graph(
    char: CharGiven,
    compost: Sequence[CompostGiven],
    parts: Sequence[Known],
    amounts: Sequence[float | None],
    share: Input | None,
    by: str,
    tables: Tables,
) -> tuple[list[Input], list[Step]]:
    """The inputs and steps of a mix."""
    inputs, steps = char_inputs(char, tables)
    inputs += [entry for part in parts for entry in part.inputs]
    if char.volume is not None:
        steps.append(Step("char_lying", _lying, ("char_dry", "char_moisture")))
    if share is None:
        _as_at_hand(compost, inputs, steps, tables.method("instruments", Instruments)[1])
    else:
        inputs.append(share)
        _as_wanted(parts, amounts, by, inputs, steps)
    _mix(len(parts), inputs, steps, tables)
    return inputs, steps


def _as_at_hand(
    compost: Sequence[CompostGiven], inputs: list[Input], steps: list[Step], tools: Instruments
) -> None:
    for i, part in enumerate(compost):
        if part.volume is not None:
            inputs.append(
                measured_input(
                    f"part{i}_volume",
                    part.volume,
                    "log",
                    tools.volume.mid,
                    compost_key("part", str(i), "amount"),
                )
            )
            steps.append(Step(f"part{i}_mass", _TIMES, (f"part{i}_volume", f"part{i}_density")))
        else:
            assert part.mass is not None
            inputs.append(
                measured_input(
                    f"part{i}_mass",
                    part.mass,
                    "log",
                    tools.scale.mid,
                    compost_key("part", str(i), "amount"),
                )
            )
            steps.append(Step(f"part{i}_volume", _OVER, (f"part{i}_mass", f"part{i}_density")))
    steps.append(
        Step("compost_needed", _SUM, tuple(f"part{i}_volume" for i in range(len(compost))))
    )


def _as_wanted(
    parts: Sequence[Known],
    amounts: Sequence[float | None],
    by: str,
    inputs: list[Input],
    steps: list[Step],
) -> None:
    """Volumes for the wanted share, the parts in the proportion of what was given (equal ones where
    nothing was).
    """
    volumes = [amount if amount is not None else 1.0 for amount in amounts]
    whole = math.fsum(volumes)
    for i, volume in enumerate(volumes):
        share = volume / whole
        inputs.append(
            exact_input(f"part{i}_share", share, Origin("field", "proportion of the parts"))
        )
    if by == "mass":
        # dry bulk density of the mixed parts turns the share of dry mass into one of volume
        for i in range(len(parts)):
            steps.append(
                Step(
                    f"part{i}_dry_density",
                    _dry_density,
                    (f"part{i}_density", f"part{i}_moisture", f"part{i}_share"),
                )
            )
        steps.append(
            Step("compost_density", _SUM, tuple(f"part{i}_dry_density" for i in range(len(parts))))
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
    for i in range(len(parts)):
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
    row_id, _ = tables.method("compost-practice", CompostPractice)
    method_full, _ = tables.method("compost", Compost)
    for name, source in (
        ("shrinks", row_id),
        ("aim_moisture", row_id),
        ("usable_carbon", method_full),
        ("critical_ratio", method_full),
    ):
        exact = name == "aim_moisture"
        inputs.append(cell_input(tables, name, "methods", source, (name,), exact=exact))
    wood, _ = tables.method("wood-char", WoodChar)
    inputs.append(cell_input(tables, "crushed", "methods", wood, ("crushed",)))
    parts = range(count)
    names = ("mass", "moisture", "nitrogen", "ratio")
    mixed = tuple(f"part{i}_{name}" for i in parts for name in names)
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
        *(Step(f"part{i}_dry", _dry_of, (f"part{i}_mass", f"part{i}_moisture")) for i in parts),
        Step("dry_of_parts", _dry_parts, mixed),
        Step("char_share", _share_of, ("char_volume", "volume"), "logit"),
        Step("char_share_mass", _share_of_two, ("char_dry", "dry_of_parts"), "logit"),
        Step("char_crushed", _TIMES, ("char_volume", "crushed")),
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
    formula_of(mixing.mix_moisture).reference,
    char="kg",
    wet="1",
    result="1",
)
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
        math.fsum(q * (1 - w) * c for q, w, _, c in rows),
        math.fsum(q * (1 - w) * n for q, w, n, _ in rows),
        usable,
        critical,
    )


@formula("dry mass of a part", "identity", mass="kg", moisture="1", result="kg")
def _dry_of(mass: Any, moisture: Any) -> Any:
    return mass * (1 - moisture)


@formula("dry mass of the parts", "identity", result="kg")
def _dry_parts(*parts: Any) -> Any:
    return math.fsum(q * (1 - w) for q, w, _, _ in _rows(parts))


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


def wanted_names(count: int) -> list[str]:
    """The outputs that a mix tells."""
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
        "char_crushed",
        "dry_of_parts",
    ] + [
        f"part{i}_{name}"
        for i in range(count)
        for name in ("volume", "mass", "dry", "moisture", "ratio", "nitrogen")
    ]
