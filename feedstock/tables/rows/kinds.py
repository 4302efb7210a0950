"""Which model serves which kind of row."""

from __future__ import annotations

from .burner import Burner
from .cautions import Caution
from .contaminant import Clears, Contaminant, OriginRow, Sign
from .limits import LimitSet
from .material import Material
from .row import Row
from .scales import ScaleRow
from .source import Source

MODELS: dict[str, type[Row]] = {
    "sources": Source,
    "materials": Material,
    "contaminants": Contaminant,
    "clears": Clears,
    "signs": Sign,
    "origins": OriginRow,
    "limits": LimitSet,
    "burners": Burner,
    "scales": ScaleRow,
    "cautions": Caution,
}
