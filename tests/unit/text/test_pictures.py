"""The pictures of README show what the command prints today."""

from __future__ import annotations

import runpy

import pytest

from builders import EXAMPLES

pytestmark = pytest.mark.regression


def test_the_pictures_are_those_of_today() -> None:
    """Draw them anew with `python examples/pictures.py` where this fails."""
    made = runpy.run_path(str(EXAMPLES / "pictures.py"))
    assert (EXAMPLES / "pictures.sha256").read_text(encoding="ascii").strip() == made["digest"]()
    page, _ = made["drawn_from"]()
    drawn = (EXAMPLES / "page.svg").read_text(encoding="utf-8")
    assert drawn == made["page_picture"](page)
