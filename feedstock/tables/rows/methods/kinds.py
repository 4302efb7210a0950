"""Which model serves which kind of method."""

from __future__ import annotations

from ..row import Row
from .amount import Containers, Instruments, Packing
from .char import CarbonCurve, CharRetention, WoodChar, YieldCurve
from .compost import Beds, Compost, CompostMaterials, CompostPractice
from .defaults import Defaults
from .drying import Drying
from .elements import Binders, ElementScreening, Fate, Paint, Preservatives, SoilAddition
from .fire import BurningRate, Charring, CharringByDensity, CharringRates, CharringSlowness, Quench
from .interval import IntervalRule
from .language import (
    CleanPhrases,
    DangerWords,
    Families,
    Forms,
    Hedges,
    Negations,
    Places,
    Plants,
    Removals,
    States,
    WeakMarks,
)
from .learning import BatchRecords, Learning
from .permanence import InventoryDefaults, Permanence
from .planning import Emissions, Planning
from .quality import CharQuality
from .scopes import Scopes
from .standards import CharStandards, FieldSigns
from .vocabulary import FeedClasses, FeedForms
from .wood import Decay, Equilibrium, HeatCoefficients, WoodWater

KINDS: dict[str, type[Row]] = {
    "yield-curve": YieldCurve,
    "carbon-curve": CarbonCurve,
    "equilibrium": Equilibrium,
    "wood-water": WoodWater,
    "char-retention": CharRetention,
    "wood-char": WoodChar,
    "drying": Drying,
    "decay": Decay,
    "packing": Packing,
    "containers": Containers,
    "instruments": Instruments,
    "heating": HeatCoefficients,
    "defaults": Defaults,
    "feed-classes": FeedClasses,
    "feed-forms": FeedForms,
    "interval-rule": IntervalRule,
}


KINDS_AFTER: dict[str, type[Row]] = {
    "char-quality": CharQuality,
    "permanence": Permanence,
    "inventory-defaults": InventoryDefaults,
    "compost": Compost,
    "beds": Beds,
    "learning": Learning,
}


KINDS_QUALITY: dict[str, type[Row]] = {
    "char-standards": CharStandards,
    "field-signs": FieldSigns,
    "compost-materials": CompostMaterials,
    "compost-practice": CompostPractice,
    "batch-records": BatchRecords,
}


KINDS_FIRE: dict[str, type[Row]] = {
    "charring": Charring,
    "charring-rates": CharringRates,
    "charring-by-density": CharringByDensity,
    "charring-slowness": CharringSlowness,
    "burning-rate": BurningRate,
    "quench": Quench,
}


KINDS_PLAN: dict[str, type[Row]] = {"planning": Planning, "emissions": Emissions}


KINDS_LOAD: dict[str, type[Row]] = {
    "preservatives": Preservatives,
    "paint": Paint,
    "binders": Binders,
    "fate": Fate,
    "soil-addition": SoilAddition,
    "element-screening": ElementScreening,
}


KINDS_LANGUAGE: dict[str, type[Row]] = {
    "plants": Plants,
    "forms": Forms,
    "states": States,
    "families": Families,
    "danger-words": DangerWords,
    "clean-phrases": CleanPhrases,
    "hedges": Hedges,
    "negations": Negations,
    "places": Places,
    "removals": Removals,
    "scopes": Scopes,
    "weak-marks": WeakMarks,
}

METHODS: dict[str, type[Row]] = {
    **KINDS,
    **KINDS_FIRE,
    **KINDS_AFTER,
    **KINDS_PLAN,
    **KINDS_QUALITY,
    **KINDS_LOAD,
    **KINDS_LANGUAGE,
}
