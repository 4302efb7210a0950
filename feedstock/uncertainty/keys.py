"""The one maker of correlation keys: inputs with equal keys are the same draw, wherever they occur.

A slip in a key would silently make doubts independent, so nobody else writes one as text.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NewType

Key = NewType("Key", str)
"""With whom an input shares its doubt."""


def row_key(owner: str, path: Iterable[str | int]) -> Key:
    """A cell of a table, by the full name of the row that owns it and the path of the cell.

    >>> row_key("reference:oak", ("moisture", "green"))
    'row:reference/oak/moisture/green'
    """
    return Key(f"row:{owner.replace(':', '/', 1)}/{'/'.join(map(str, path))}")


def method_key(method: str, group: str = "common") -> Key:
    """The error of a method, shared by all (`common`) or by a class of feed."""
    return Key(f"method:{method}:{group}")


def burn_key(*parts: str) -> Key:
    """What the fire decides for every lot: `temperature`, `packing`, `kept` of a fineness.

    >>> burn_key("retention", "fine")
    'burn:retention:fine'
    """
    return Key(f"burn:{':'.join(parts)}")


def meter_key(instrument: str) -> Key:
    """An instrument, shared by all lots that were read with it."""
    return Key(f"meter:{instrument}")


def scale_key(heap: str = "heap") -> Key:
    """The scale on which the lots of a heap were weighed."""
    return Key(f"scale:{heap}")


def stated_heap_key(heap: str = "heap") -> Key:
    """The person's own part in the ranges that they state for amounts of a heap."""
    return Key(f"stated:{heap}")


def stated_key(lot: str) -> Key:
    """A range that a person states for the amount of one lot."""
    return Key(f"stated:{lot}")


def lot_key(signature: str, field: str) -> Key:
    """A field of a lot, shared by all lots that say the same without their amount."""
    return Key(f"lot:{signature}:{field}")


def experience_key(burner: str, feed: str, figure: str) -> Key:
    """What own batches taught of a figure, for a burner and a class of feed."""
    return Key(f"experience:{burner}/{feed}/{figure}")


def exact_key(name: str) -> Key:
    """An input without doubt."""
    return Key(f"exact:{name}")


def compost_key(*parts: str) -> Key:
    """What a person states of a compost or a bed: of the char, of a part by its number, of the mix.

    >>> compost_key("part", "0", "density")
    'compost:part:0:density'
    """
    return Key(f"compost:{':'.join(parts)}")


def soil_key(field: str) -> Key:
    """What a person states of the soil."""
    return Key(f"soil:{field}")
