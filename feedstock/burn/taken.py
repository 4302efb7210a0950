"""A part of a lot as a person takes it, and as it can be written down."""

from __future__ import annotations

import math
from typing import Any

from ..model.inputs.lot import Lot
from ..quantities.fields import Measured, QuantityField
from ..words import Message, Quantity

_TAPERING = ("half ellipsoid", "paraboloid", "cone")


def takeable(lot: Lot, share: float) -> float:
    """The share rounded up to what a person takes: whole pieces, quarters of a container, three
    digits of anything else.
    """
    if lot.pieces is not None:
        return min(math.ceil(share * lot.pieces.count - 1e-9), lot.pieces.count) / lot.pieces.count
    if lot.containers is not None:
        whole = lot.containers.count
        return min(math.ceil(share * whole * 4 - 1e-9) / 4 / whole, 1.0)
    stated = lot.mass or lot.volume or (lot.stack.length if lot.stack is not None else None)
    assert stated is not None
    wanted = stated.mid * min(share, 1.0)
    step = 10.0 ** (math.floor(math.log10(wanted)) - 2) if wanted > 0 else 1.0
    return min(math.ceil(wanted / step - 1e-9) * step / stated.mid, 1.0)


def scaled_lot(lot: Lot, share: float, name: str) -> Lot:
    """The same lot with that share of its amount, under the name that it goes by in the heap."""
    update: dict[str, Any] = {"name": name}
    if share < 1.0:
        if lot.mass is not None:
            update["mass"] = _scaled(lot.mass, share, "kg")
        elif lot.volume is not None:
            update["volume"] = _scaled(lot.volume, share, "L")
        elif lot.pieces is not None:
            update["pieces"] = lot.pieces.model_copy(
                update={"count": max(1, round(lot.pieces.count * share))}
            )
        elif lot.containers is not None:
            update["containers"] = lot.containers.model_copy(
                update={"count": lot.containers.count * share}
            )
        elif lot.stack is not None:
            update["stack"] = lot.stack.model_copy(
                update={"length": _scaled(lot.stack.length, share, "m")}
            )
    return lot.model_copy(update=update)


def _scaled(stated: Measured, share: float, unit: str) -> Measured:
    factor = 1000.0 if unit == "L" else 1.0
    numbers = {
        part: float(f"{getattr(stated, part) * share * factor:.6g}")
        for part in ("low", "mid", "high")
        if getattr(stated, part) is not None
    }
    written = {part: f"{number:f}".rstrip("0").rstrip(".") for part, number in numbers.items()}
    text = f"{written['mid']} {unit}"
    if stated.low is not None:
        text = f"{written['low']} to {written['high']} {unit}, likely {written['mid']} {unit}"
    return QuantityField(stated.dimension).read(text)


def amount_told(lot: Lot, share: float) -> Message:
    """What to take, in the way in which the lot was described."""
    if share >= 1.0:
        return Message("take.all")
    if lot.mass is not None:
        return Message("take.part", part=Quantity(lot.mass.mid * share, "kg"))
    if lot.volume is not None:
        return Message("take.part", part=Quantity(1000 * lot.volume.mid * share, "L"))
    if lot.pieces is not None:
        part = max(1, round(lot.pieces.count * share))
        return Message("take.pieces", part=part, whole=lot.pieces.count)
    if lot.containers is not None:
        whole = lot.containers.count
        return Message("take.containers", part=whole * share, whole=whole, of=lot.containers.of)
    assert lot.stack is not None
    if lot.stack.shape in _TAPERING:
        # its ends hold less than its middle: a part of its length is not that part of it
        return Message("take.heap", part=100 * share)
    length = lot.stack.length.mid
    part_of_it = Quantity(length * share, "m")
    return Message("take.stack", part=part_of_it, whole=Quantity(length, "m"))
