"""Results in words for people."""

from __future__ import annotations

from typing import Any

from ..errors import InputError, Problem, shown
from ..model.appraisal import Appraisal, LotAppraisal
from ..model.burn_plan import BurnPlan, Gathering, Sizing
from ..model.char import Qualities
from ..model.compost import Blend
from ..model.experience import Experience
from ..model.explanation import Explanation, one_screen, whole_chain
from ..quantities.format import Units
from ..quantities.parse import read_quantity
from ..quantities.units import Refused
from ..words import Reader


def lot_page(lot: LotAppraisal, units: Units = "metric", language: str = "en") -> str:
    """One lot of an appraisal whole, as plain text with its sources."""
    from .appraisal import lot_page as text

    return text(lot, units, language)


def sheet(
    result: Appraisal,
    units: Units = "metric",
    language: str = "en",
    bucket: str | None = None,
    barrow: str | None = None,
) -> str:
    """An appraisal as a sheet to print: one HTML file that needs no network and no script. With
    `bucket="12 L"` or `barrow="80 L"` litres are told in these too.

    Raises InputError where the extra `sheet` is not installed, and for what is no volume.
    """
    from .sheet_page import sheet as made

    return made(result, _reader(units, language, bucket, barrow))


def notebook_view(result: Appraisal) -> str:
    """A result in a notebook: as on the sheet, or as plain text without its extra."""
    from .sheet_page import notebook_view as made

    return made(result)


def _reader(units: Units, language: str, bucket: str | None, barrow: str | None) -> Reader:
    return Reader(units, language, litres_of(bucket, "bucket"), litres_of(barrow, "barrow"))


def litres_of(text: str | None, field: str) -> float:
    """What a bucket or a barrow holds, L; nothing where it is not given. Raises InputError."""
    if text is None:
        return 0.0
    try:
        volume = 1000 * read_quantity(text, "volume").mid
    except Refused as why:
        raise InputError([Problem(why.code, why.what, why.expected, field)]) from None
    if volume <= 0:
        what = f"'{shown(text)}' holds nothing"
        raise InputError([Problem("out-of-range", what, "Write for instance 12 L.", field)])
    return volume


def page(
    result: Any,
    units: Units = "metric",
    language: str = "en",
    full: bool = False,
    bucket: str | None = None,
    barrow: str | None = None,
) -> str:
    """A result as plain text: an appraisal, a plan, a gathering, a size, qualities, a blend, an
    experience or an explanation, in the reader's units and language.

    Raises TypeError for anything else. `full` gives everything that there is to be said. With
    `bucket="12 L"` or `barrow="80 L"` the one page tells litres in these too.
    """
    from .after import blend_text, experience_text, quality_text
    from .appraisal import appraisal_text
    from .one_page import one_page
    from .plan import gathering_text, plan_text, sizing_text

    if isinstance(result, Appraisal):
        if full:
            return appraisal_text(result, units, language)
        return one_page(result, _reader(units, language, bucket, barrow))
    if isinstance(result, BurnPlan):
        return plan_text(result, units, language)
    if isinstance(result, Gathering):
        return gathering_text(result, units, language)
    if isinstance(result, Sizing):
        return sizing_text(result, units, language)
    if isinstance(result, Qualities):
        return quality_text(result, None, units, language, full)
    if isinstance(result, Blend):
        return blend_text(result, None, units, language)
    if isinstance(result, Experience):
        return experience_text(result, None, units, language)
    if isinstance(result, Explanation):
        return (whole_chain if full else one_screen)(result, Reader(units, language))
    raise TypeError(f"a {type(result).__name__} is not a result that has a page")
