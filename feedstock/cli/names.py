"""Names on the command line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from ..errors import FeedstockError, Problem, UnknownName, nearest_names, shown

if TYPE_CHECKING:
    from ..model.appraisal import Appraisal, LotAppraisal

_SHARED = {"limits": "--limits", "bucket": "--bucket", "barrow": "--barrow"}
_OPTIONS: Mapping[str, Mapping[str, str]] = {
    "gather": {"target": "--want", "confidence": "--confidence"},
    "size": {"loads": "--loads"},
    "char": {"signs": "--sign", "soil_temperature": "--soil"},
    "learn": {"person": "--person"},
}
"""By which option each argument of a function is given."""


def by_option(why: FeedstockError, command: str) -> FeedstockError:
    """The same problems, those of a function's arguments at the options that a person wrote."""
    options = {**_SHARED, **_OPTIONS.get(command, {})}
    problems = [
        replace(problem, field=options[str(problem.path[0])])
        if problem.file is None and problem.path and problem.path[0] in options
        else problem
        for problem in why.problems
    ]
    return type(why)(problems, why.left_out)


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
