"""How much char is wanted, as a person says it."""

from __future__ import annotations

import re
from typing import Any

from ..errors import InputError, Problem, shown
from ..quantities.fields import Measured, QuantityField
from ..quantities.frozen import frozen
from ..quantities.units import Refused

CONFIDENCE = 0.8
"""Four times in five there is at least as much char as was asked for, unless another confidence is
stated.
"""


@frozen
class Target:
    """What is wanted: the figure, its amount in SI, and how to show it."""

    text: str
    figure: str
    amount: float
    unit: str
    factor: float


def read_target(target: Any) -> Target:
    """`60 L`, `8 kg`, `5 kg carbon`, a pint quantity or an Estimate.

    Raises InputError for anything else.
    """
    text = (
        target if isinstance(target, str) else target.text if isinstance(target, Measured) else ""
    )
    carbon = re.fullmatch(r"(.*\S)\s+(?:of\s+)?carbon\s*", text, re.IGNORECASE | re.DOTALL)
    plain = (
        re.sub(
            r"\s+(?:of\s+)?char\s*$", "", carbon.group(1) if carbon else text, flags=re.IGNORECASE
        )
        if isinstance(target, str)
        else target
    )
    why: Refused | None = None
    for dimension, figure, unit, factor in (
        ("volume", "char_volume", "L", 1000.0),
        ("mass", "char_carbon" if carbon else "char_mass", "kg", 1.0),
    ):
        try:
            door = QuantityField(dimension, above=0)
            stated = door.read(plain)
            door.check(stated)
        except Refused as refused:
            why = refused if why is None or refused.code != "wrong-dimension" else why
            continue
        if stated.low is not None or (carbon and dimension == "volume"):
            break
        return Target(text or stated.text, figure, stated.mid, unit, factor)
    raise InputError(
        [
            Problem(
                why.code if why is not None else "not-a-target",
                why.what if why is not None else f"'{shown(text)}' is not one amount of char",
                "Write how much char is wanted: 60 L, 8 kg or 5 kg carbon.",
                "target",
            )
        ]
    )
