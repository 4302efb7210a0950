"""Results in words for people."""

from __future__ import annotations

from typing import Any

from ..model.appraisal import Appraisal
from ..model.burn_plan import BurnPlan, Gathering, Sizing
from ..model.char import Qualities
from ..model.compost import Blend
from ..model.experience import Experience
from ..model.explanation import Explanation
from ..quantities.format import Units


def page(result: Any, units: Units = "metric", language: str = "en", full: bool = False) -> str:
    """A result as plain text: an appraisal, a plan, a gathering, a size, qualities, a blend, an
    experience or an explanation, in the reader's units and language.

    Raises TypeError for anything else. `full` gives everything that there is to be said.
    """
    from .after import blend_text, experience_text, quality_text
    from .appraisal import appraisal_text
    from .explanation import explanation_text
    from .plan import gathering_text, plan_text, sizing_text

    if isinstance(result, Appraisal):
        return appraisal_text(result, units, language)
    if isinstance(result, BurnPlan):
        return plan_text(result, units, language)
    if isinstance(result, Gathering):
        return gathering_text(result, units, language)
    if isinstance(result, Sizing):
        return sizing_text(result, units, language)
    if isinstance(result, Qualities):
        return quality_text(result, None, units, language)
    if isinstance(result, Blend):
        return blend_text(result, None, units, language)
    if isinstance(result, Experience):
        return experience_text(result, None, units, language)
    if isinstance(result, Explanation):
        return explanation_text(result, units, language)
    raise TypeError(f"a {type(result).__name__} is not a result that has a page")
