"""The composition of char as steps behind a lot's chain."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ..lot.build import Setting, build_lot_model
from ..lot.model import LotModel
from ..model.appraisal import Appraisal
from ..model.findings import Verdict
from ..physics import char, permanence
from ..physics import quality as physics
from ..quantities.cell import Scale
from ..quantities.estimate import Estimate, bounded_estimate
from ..tables.inputs import cell_input
from ..tables.rows.methods.char import CarbonCurve
from ..tables.rows.methods.quality import CharQuality
from ..tables.rows.methods.standards import CharStandards
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.formula import formula
from ..uncertainty.graph import Step
from ..uncertainty.inputs import (
    Input,
    Origin,
    assumed_input,
    error_input,
    exact_input,
    interval_input,
)
from ..uncertainty.intervals import Z95
from ..uncertainty.keys import Key, method_key, row_key
from ..uncertainty.propagate import propagate
from ..words import Message


@dataclass(slots=True)
class CharOf:
    """The char of one lot: its chain with the steps of its composition behind it, and its class of
    material.
    """

    name: str
    model: LotModel
    steps: list[Step]
    inputs: list[Input]
    class_: str
    row: str
    keep: bool

    def figures(self, *wanted: str) -> dict[str, UncertainValue]:
        return propagate(
            (*self.model.chain, *self.steps), [*self.model.inputs, *self.inputs], wanted
        )

    @property
    def temperature(self) -> float:
        return self.model.middle("temperature")


def chars_of(appraisal: Appraisal, tables: Tables) -> list[CharOf]:
    """Every lot of an appraisal that is not to be kept out, bound again with the composition of its
    char.
    """
    inputs = appraisal.inputs
    burner = tables.find(
        "burners", inputs.burn.burner if inputs.burn is not None else tables.defaults[1].burner
    )
    setting = Setting(tables, burner, inputs.burn, inputs.experience)
    out = []
    for index, (lot, result) in enumerate(zip(inputs.heap.lots, appraisal.lots, strict=True)):
        if result.verdict is not Verdict.KEEP_OUT:
            model = build_lot_model(lot, setting, f"lots[{index}]", result.name)
            out.append(_composed(model, tables))
    return out


def uncleared(appraisal: Appraisal) -> list[Message]:
    """A note on the lots whose char is told although they are still to be checked."""
    names = [lot.name for lot in appraisal.lots if lot.verdict is Verdict.CHECK_FIRST]
    return [Message("char.check-first", lots=names)] if names else []


def _composed(model: LotModel, tables: Tables) -> CharOf:
    row_id, method = tables.method("char-quality", CharQuality)
    class_ = model.evidence.class_
    char = CharOf(model.name, model, [], [], class_, model.row_id, True)
    group = method.groups.get(class_, "wood")

    def cell(name: str, *path: str | int) -> str:
        char.inputs.append(cell_input(tables, name, "methods", row_id, path))
        return name

    def step(output: str, function: Any, *inputs: str, scale: Scale = "log") -> None:
        char.steps.append(Step(output, function, inputs, scale))

    _hydrogen(char, tables, row_id, group)
    for name, function in (("carbon", physics.carbon_in_char), ("oxygen", physics.oxygen_in_char)):
        step(
            f"plain_{name}",
            function,
            "temperature",
            *(cell(f"plain_{name}_{part}", name, part) for part in ("rest", "span", "rate")),
            scale="logit",
        )
    for name in ("carbon", "oxygen"):
        cell(f"atomic_{name}", "atomic", name)
    # the oxygen follows the hydrogen from laboratory to laboratory, since both fall as a char is
    # driven further
    step(
        "plain_o_c",
        physics.molar_ratio,
        "plain_oxygen",
        "plain_carbon",
        "atomic_oxygen",
        "atomic_carbon",
    )
    step("o_c", _times, "plain_o_c", "h_factor")
    step("ash_in_char", physics.char_ash, "ash", "ash_kept", "char_yield", scale="logit")
    step("organic", physics.organic_carbon, "carbon_of_char", "ash_in_char", scale="logit")
    _volatile(char, tables)
    return char


def _hydrogen(char: CharOf, tables: Tables, row_id: str, group: str) -> None:
    """The steps `h_factor`, what other laboratories find more or less, and `h_c`."""
    key = method_key(row_id, f"h_c/{group}")
    for name in ("doubt", "doubt_hot"):
        path = ("curves", group, name)
        char.inputs.append(cell_input(tables, f"h_{name}", "methods", row_id, path, key=key))
    for name in ("doubt_to", "doubt_hot_from"):
        char.inputs.append(cell_input(tables, name, "methods", row_id, (name,)))
    for name in ("start", "rate"):
        path = ("curves", group, name)
        char.inputs.append(cell_input(tables, f"h_{name}", "methods", row_id, path))
    ends = ("h_doubt", "h_doubt_hot", "doubt_to", "doubt_hot_from")
    char.steps += [
        Step("h_factor", physics.doubt_at, ("temperature", *ends)),
        Step("h_c", physics.hydrogen_to_carbon, ("temperature", "h_start", "h_rate", "h_factor")),
    ]


@formula(
    "oxygen ratio with the doubt of other laboratories",
    "identity",
    ratio="1",
    doubt="1",
    result="1",
)
def _times(ratio: Any, doubt: Any) -> Any:
    return ratio * doubt


@formula(
    "volatile matter of the char",
    "table of points by temperature, linear between, on an ash basis",
    low="1",
    mid="1",
    high="1",
    error="1",
    least="1",
    ash="1",
    result="1",
)
def _volatile_share(low: Any, mid: Any, high: Any, error: Any, least: Any, ash: Any) -> Any:
    value = mid + (error * (high - mid) if error > 0 else -error * (low - mid))
    return max(value, least) * (1.0 - ash)


@formula(
    "fixed carbon of the char",
    "identity, 1 - volatile matter - ash",
    volatile="1",
    ash="1",
    result="1",
)
def _fixed(volatile: Any, ash: Any) -> Any:
    return max(1.0 - volatile - ash, 0.0)


def _volatile(char: CharOf, tables: Tables) -> None:
    row_id, method = tables.method("char-standards", CharStandards)
    points = [item.temperature.mid for item in method.volatile]
    for end in ("low", "mid", "high"):
        values = [getattr(item.share, end) for item in method.volatile]

        def read(
            temperature: Any, points: Sequence[float] = points, values: Sequence[float] = values
        ) -> Any:
            return permanence.between(temperature, points, values)

        char.steps.append(
            Step(
                f"volatile_{end}",
                formula(
                    "volatile matter of ash-free char",
                    "table of points by temperature",
                    temperature="degC",
                    result="1",
                )(read),
                ("temperature",),
            )
        )
    origin = tables.origin("methods", row_id, ("volatile", 0, "share"), method.volatile[0].share)
    char.inputs.append(
        interval_input(
            "volatile_error", (-1.0, 0.0, 1.0), "linear", row_key(row_id, ("volatile",)), origin
        )
    )
    _least_volatile(char, tables)
    char.steps.append(
        Step(
            "volatile",
            _volatile_share,
            (
                "volatile_low",
                "volatile_mid",
                "volatile_high",
                "volatile_error",
                "volatile_least",
                "ash_in_char",
            ),
            "logit",
        )
    )
    char.steps.append(Step("fixed", _fixed, ("volatile", "ash_in_char"), "logit"))


def _least_volatile(composed: CharOf, tables: Tables) -> None:
    """Volatiles hold all that is no carbon, even where that is at the high end of its interval."""
    row_id, curve = tables.method("char-carbon", CarbonCurve)
    group = curve.groups.get(composed.class_, "wood")
    cell = curve.curves[group].error
    origin = tables.origin("methods", row_id, ("curves", group, "error"), cell)
    composed.inputs.append(exact_input("carbon_most", cell.mid, origin))
    composed.inputs.append(assumed_input("no_error", 0.0, "the curve itself"))
    names = ("temperature", "carbon_top", "carbon_span", "carbon_rate", "no_error")
    composed.steps += [
        Step("curve_carbon", char.carbon_in_char, names, "logit"),
        Step("volatile_least", physics.least_volatile, ("curve_carbon", "carbon_most"), "linear"),
    ]


def share_estimate(figure: UncertainValue, factor: float = 100.0, unit: str = "%") -> Estimate:
    """A share of the composition in percent, or another figure in its own unit."""
    scale: Scale = "logit" if unit == "%" else "log"
    return bounded_estimate(figure.ends, figure.mid, unit, factor, scale)


def ends_of(share: Estimate) -> tuple[float, float, float]:
    """The three values of an estimate."""
    return share.low_value, share.mid_value, share.high_value


def residual(name: str, sd: float, key: Key, origin: Origin) -> Input:
    """An error of mean 0 with this standard deviation."""
    return error_input(name, Z95 * sd, key, origin)
