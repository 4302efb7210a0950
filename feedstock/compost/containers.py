"""A mix in buckets and barrows: parts that are given so, and the recipe told so."""

from __future__ import annotations

from ..lot.amount import container_named
from ..model.compost import Blend
from ..tables.tables import Tables
from ..words import Message, Quantity
from .inputs import CompostGiven

_LITRES = 1000.0


def by_volume(part: CompostGiven, index: int, tables: Tables) -> CompostGiven:
    """A part in containers as one by volume, with what is unsure of their size. Raises
    UnknownName.
    """
    containers = part.containers
    if containers is None:
        return part
    _, row = container_named(containers.of, tables, f"parts[{index}].containers.of")
    low, mid, high = (
        f"{_LITRES * containers.count * size:.6g}"
        for size in (row.volume.low, row.volume.mid, row.volume.high)
    )
    fields = part.model_dump(exclude={"containers"}) | {
        "volume": f"{low} to {high} L, likely {mid} L"
    }
    return CompostGiven.model_validate(fields)


def recipe(blend: Blend, name: str, litres: float) -> Message:
    """How many buckets or barrows of so many litres of each part, of the char, of what is suggested
    and of water.

    The numbers keep their proportion whatever it holds, as long as it is the same one for all.
    """
    amounts = [(part.name, part.volume.mid_value) for part in (blend.char, *blend.parts)]
    if blend.suggestion is not None:
        amounts += [(more, volume) for more, _, volume in blend.suggestion.add]
    amounts.append(("water", blend.water_to_add.mid_value))
    return Message(
        "mix.in-containers",
        name=name,
        size=Quantity(litres, "L"),
        counts=tuple(
            Message("mix.count", name=part, count=volume / litres)
            for part, volume in amounts
            if volume > 0
        ),
    )
