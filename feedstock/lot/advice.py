"""The one measurement that would narrow a figure most."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from ..uncertainty.figure import UncertainValue
from ..uncertainty.inputs import Input
from ..words import Message
from .model import LotModel, Route

MEASUREMENTS: Mapping[str, str] = {
    **dict.fromkeys(("moisture", "air_temperature", "air_humidity"), "moisture"),
    "least_dimension": "thickness",
    **dict.fromkeys(
        (
            "bark_density",
            "bark_volume",
            "basic_density",
            "board_thickness",
            "bulk_density",
            "butt",
            "container",
            "decay",
            "diameter",
            "hollow",
            "length",
            "measuring",
            "solid_share",
            "top",
            "width",
        ),
        "weigh",
    ),
    **dict.fromkeys(
        (
            "char_bulk_density",
            "char_packing",
            "curve_error_class",
            "curve_error_common",
            "field_yield",
            "retention_by_burner",
            "retention_of_feed",
        ),
        "record",
    ),
}
"""What would settle an input of a lot's chain, by the input's name; any amount is settled by
weighing."""

_BEFORE_THE_FIRE = ("moisture", "weigh", "density", "bulk", "thickness")
_WORTH_IT = 0.1
"""A smaller share of the width is not worth a walk to the scales."""


def best_measurement(models: Iterable[LotModel], figure: UncertainValue) -> Message | None:
    """What to measure to narrow a figure of these lots; None where nothing would help.

    What can be measured before the fire comes first, and a record of the burn where that would not
    narrow it by a tenth. The share of a key, by the square of its changes, counts at the first lot
    that has it.
    """
    squares = {key: (high - low) ** 2 for key, (low, high) in figure.sensitivities.items()}
    whole = math.fsum(squares.values())
    if whole == 0:
        return None
    shares: dict[tuple[str, str], float] = {}
    for model in models:
        for entry in model.inputs:
            way = _way(entry, model)
            if way is not None and entry.key in squares:
                place = (way, "" if way == "record" else model.name)
                shares[place] = shares.get(place, 0.0) + squares.pop(entry.key) / whole
    before = {place: share for place, share in shares.items() if place[0] in _BEFORE_THE_FIRE}
    if max(before.values(), default=0.0) >= _WORTH_IT:
        shares = before
    if not shares:
        return None
    way, lot = max(shares, key=shares.__getitem__)
    return Message(f"advice.{way}", lot=lot, share=100 * shares[way, lot])


def _way(entry: Input, model: LotModel) -> str | None:
    """What would settle an input of a lot."""
    if entry.amount:
        return "weigh"
    way = MEASUREMENTS.get(entry.name)
    if way == "weigh" and model.route is Route.MASS and entry.name == "bulk_density":
        return "bulk"
    # what was weighed already needs a density for nothing but the volume of its char
    return "density" if way == "weigh" and model.route is Route.MASS else way
