"""The measures of a burn as they were given."""

from __future__ import annotations

from ..model.inputs.burn import Burn

MEASURES = ("width", "diameter", "depth", "length", "bottom_width", "bottom_length", "volume")


def has_measures(burn: Burn | None) -> bool:
    """Whether any measure or a volume was given."""
    return burn is not None and any(getattr(burn, name) is not None for name in MEASURES)


def bare(burn: Burn) -> Burn:
    """A burn without its measures, which has no plan."""
    return burn.model_copy(update=dict.fromkeys(MEASURES))
