"""A mix in buckets: parts that are given so, and the recipe told so."""

from __future__ import annotations

import pytest

from builders import EXAMPLES, tables
from feedstock import InputError, blend
from feedstock.cli.entry import main
from feedstock.compost.containers import recipe

GRASS = {"material": "grass clippings", "volume": "144 L"}


@pytest.mark.worked
def test_the_recipe_in_buckets() -> None:
    # a bucket is 12 L: 60, 200 and 144 L are 5, 16.7 and 12 of them
    mixture = blend("60 L", [("horse manure", "200 L"), GRASS], tables=tables())
    told = str(recipe(mixture, "bucket", 12.0))
    assert told.startswith("In buckets of 12 L, the same one for all: char 5, horse manure 17")
    assert "grass clippings 12" in told


@pytest.mark.worked
def test_parts_in_buckets_hold_what_is_unsure_of_a_bucket() -> None:
    # 8 buckets of 8, 12 and 16 L
    mixture = blend(
        "60 L", [{"material": "straw", "containers": {"count": 8, "of": "bucket"}}], tables=tables()
    )
    (straw,) = mixture.parts
    assert (straw.volume.low_value, straw.volume.mid_value, straw.volume.high_value) == (
        pytest.approx((64, 96, 128), rel=0.02)
    )


@pytest.mark.property
def test_what_is_added_and_the_water_are_in_the_recipe() -> None:
    """Straw alone starves and is dry, so that something is suggested."""
    mixture = blend("60 L", [("straw", "300 L")], tables=tables())
    assert mixture.suggestion is not None
    told = str(recipe(mixture, "bucket", 12.0))
    for name, _, _ in mixture.suggestion.add:
        assert name in told
    assert ("water" in told) is (
        mixture.water_to_add.mid_value > 0 or "water" in str(mixture.parts)
    )


@pytest.mark.property
def test_an_unknown_container_and_two_amounts_are_told() -> None:
    with pytest.raises(InputError, match="bucket"):
        blend("60 L", [{"material": "straw", "containers": {"count": 8, "of": "buket"}}])
    with pytest.raises(InputError, match="by volume and by containers"):
        blend("60 L", [{**GRASS, "containers": {"count": 8, "of": "bucket"}}])


@pytest.mark.regression
def test_on_request_at_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    mix = str(EXAMPLES / "records" / "compost.yaml")
    assert main(["blend", mix]) == 0
    assert "bucket" not in capsys.readouterr().out
    assert main(["blend", mix, "--bucket", "12 L"]) == 0
    assert "char 5," in " ".join(capsys.readouterr().out.split())
    assert main(["blend", mix, "--barrow", "80"]) == 2
    assert "unit of volume" in capsys.readouterr().err
