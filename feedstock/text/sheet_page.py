"""The printed sheet: one HTML file that needs no network and no script."""

from __future__ import annotations

from functools import lru_cache
from html import escape
from typing import TYPE_CHECKING

from ..errors import InputError, missing_extra
from ..model.appraisal import Appraisal
from ..words import Reader
from .burn_steps import burn_head, burn_steps
from .contents import Contents
from .one_page import one_page
from .pictures import char_rows, feeding_rows, section_of

if TYPE_CHECKING:
    from jinja2 import Template

_BOXES = ("minutes", "litres", "kilograms", "brands", "water")


@lru_cache(maxsize=1)
def _template() -> Template:
    """The template, every value in it escaped. Raises InputError where the extra is missing."""
    try:
        from jinja2 import Environment, PackageLoader, StrictUndefined
    except ImportError:
        raise InputError([missing_extra("sheet", "--sheet")]) from None
    loader = PackageLoader("feedstock.text")
    environment = Environment(
        loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True
    )
    return environment.get_template("sheet.html")


def sheet(result: Appraisal, reader: Reader) -> str:
    """The sheet of an appraisal as HTML: what goes in and what stays out, the char expected, the
    pit, the burn in steps, and boxes to write down what came of it.

    Raises InputError where the extra `sheet` is not installed.
    """
    template, contents, plan = _template(), Contents(result, reader), result.burn
    planned = plan is not None and not plan.refused
    return template.render(
        language=reader.language,
        head=contents.head(),
        groups=list(contents.groups()),
        read_as=list(contents.read_as()),
        char=char_rows(result, reader),
        section=section_of(plan, reader) if planned and plan is not None else None,
        feeding=feeding_rows(plan, reader) if planned and plan is not None else None,
        burn_head=burn_head(result, reader),
        steps=list(burn_steps(result, reader)),
        record_head=reader.say("sheet.record-head"),
        boxes=[reader.say(f"sheet.box-{name}", units=reader.units) for name in _BOXES],
        last=list(contents.last(record=False)),
    )


def notebook_view(result: Appraisal) -> str:
    """A result in a notebook: the sheet, or without its extra the page as plain text."""
    try:
        return sheet(result, Reader())
    except InputError:
        return f"<pre>{escape(one_page(result, Reader()))}</pre>"
