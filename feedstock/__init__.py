"""Feedstock: appraise scrap plant matter before it is burned to char for garden soil.

    from feedstock import Burn, Heap, Lot, appraise

Names are loaded when they are first used, so that importing this package loads neither pint nor a
YAML reader.
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .after.blend import blend as blend
    from .after.learn import learn as learn
    from .after.records import BatchRecord as BatchRecord
    from .appraise import Appraisal as Appraisal
    from .appraise import appraise as appraise
    from .appraise import appraise_lot as appraise_lot
    from .appraise import gather as gather
    from .errors import FeedstockError as FeedstockError
    from .errors import InputError as InputError
    from .errors import Problem as Problem
    from .errors import TableError as TableError
    from .errors import UnknownName as UnknownName
    from .estimate import Estimate as Estimate
    from .figures import Explanation as Explanation
    from .heap import Burn as Burn
    from .heap import Heap as Heap
    from .heap import Job as Job
    from .heap import Lot as Lot
    from .results import Finding as Finding
    from .results import LotAppraisal as LotAppraisal
    from .results import Verdict as Verdict
    from .results_after import Experience as Experience
    from .results_burn import BurnPlan as BurnPlan
    from .results_burn import Gathering as Gathering
    from .tables import Tables as Tables
    from .tables import load_tables as load_tables

_HOMES = {
    "after.blend": ("blend",),
    "after.learn": ("learn",),
    "after.records": ("BatchRecord",),
    "results_after": ("Experience",),
    "appraise": ("Appraisal", "appraise", "appraise_lot", "gather"),
    "errors": ("FeedstockError", "InputError", "Problem", "TableError", "UnknownName"),
    "estimate": ("Estimate",),
    "figures": ("Explanation",),
    "heap": ("Burn", "Heap", "Job", "Lot"),
    "results": ("BurnPlan", "Gathering", "Finding", "LotAppraisal", "Verdict"),
    "tables": ("Tables", "load_tables"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME_OF)


def __getattr__(name: str) -> Any:
    if name == "__version__":
        import importlib_metadata

        return importlib_metadata.version("feedstock")
    home = _HOME_OF.get(name)
    if home is None:
        raise AttributeError(f"module 'feedstock' has no attribute '{name}'")
    value = getattr(import_module(f".{home}", __name__), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return list(__all__)


class _Package(ModuleType):
    """The import system would put the module `appraise` where the function of that name belongs."""

    def __setattr__(self, name: str, value: Any) -> None:
        if not (name == "appraise" and isinstance(value, ModuleType)):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package
