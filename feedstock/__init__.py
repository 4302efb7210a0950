"""Feedstock: appraise scrap plant matter before it is burned to char for garden soil.

    from feedstock import Burn, Heap, Lot, appraise

Names are loaded when they are first used, so that importing this package loads neither pint nor a
YAML reader.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .char.carbon import carbon as carbon
    from .char.quality import quality as quality
    from .compost.beds import beds as beds
    from .compost.blend import blend as blend
    from .errors import FeedstockError as FeedstockError
    from .errors import InputError as InputError
    from .errors import Problem as Problem
    from .errors import TableError as TableError
    from .errors import UnknownName as UnknownName
    from .experience.check import check_burn as check_burn
    from .experience.learn import learn as learn
    from .experience.records import BatchRecord as BatchRecord
    from .model.appraisal import Appraisal as Appraisal
    from .model.appraisal import LotAppraisal as LotAppraisal
    from .model.burn_plan import BurnPlan as BurnPlan
    from .model.burn_plan import Gathering as Gathering
    from .model.burn_plan import Sizing as Sizing
    from .model.experience import Experience as Experience
    from .model.explanation import Explanation as Explanation
    from .model.findings import Finding as Finding
    from .model.findings import Verdict as Verdict
    from .model.inputs.burn import Burn as Burn
    from .model.inputs.heap import Heap as Heap
    from .model.inputs.heap import Job as Job
    from .model.inputs.lot import Lot as Lot
    from .pipeline import appraise as appraise
    from .pipeline import appraise_lot as appraise_lot
    from .pipeline import gather as gather
    from .pipeline import size as size
    from .quantities.estimate import Estimate as Estimate
    from .tables.loading.load import load_tables as load_tables
    from .tables.tables import Tables as Tables

_HOMES = {
    "char.carbon": ("carbon",),
    "char.quality": ("quality",),
    "compost.beds": ("beds",),
    "compost.blend": ("blend",),
    "errors": ("FeedstockError", "InputError", "Problem", "TableError", "UnknownName"),
    "experience.check": ("check_burn",),
    "experience.learn": ("learn",),
    "experience.records": ("BatchRecord",),
    "model.appraisal": ("Appraisal", "LotAppraisal"),
    "model.burn_plan": ("BurnPlan", "Gathering", "Sizing"),
    "model.experience": ("Experience",),
    "model.explanation": ("Explanation",),
    "model.findings": ("Finding", "Verdict"),
    "model.inputs.burn": ("Burn",),
    "model.inputs.heap": ("Heap", "Job"),
    "model.inputs.lot": ("Lot",),
    "pipeline": ("appraise", "appraise_lot", "gather", "size"),
    "quantities.estimate": ("Estimate",),
    "tables.loading.load": ("load_tables",),
    "tables.tables": ("Tables",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME_OF)


def __getattr__(name: str) -> Any:
    if name == "__version__":
        from importlib.metadata import version

        return version("feedstock")
    home = _HOME_OF.get(name)
    if home is None:
        raise AttributeError(f"module 'feedstock' has no attribute '{name}'")
    value = getattr(import_module(f".{home}", __name__), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return list(__all__)
