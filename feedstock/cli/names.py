"""Names on the command line."""

from __future__ import annotations

from ..errors import Problem, UnknownName, nearest_names, shown
from ..model.appraisal import Appraisal, LotAppraisal


def lot_named(result: Appraisal, name: str) -> LotAppraisal:
    """The lot of that name, without regard to case. Raises UnknownName where there is none."""
    for lot in result.lots:
        if lot.name.casefold() == name.strip().casefold():
            return lot
    names = [lot.name for lot in result.lots]
    raise UnknownName(
        [
            Problem(
                "unknown-lot",
                f"there is no lot '{shown(name)}'",
                f"Lots: {', '.join(names[:20])}.",
                "--lot",
                nearest=nearest_names(name, names),
            )
        ]
    )
