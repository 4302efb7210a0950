"""Own batches correct the char volume per feed; counted wood, in whose char volume the density
nearly cancels, gets none in by the correction.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from feedstock import Burn, Heap, Lot, appraise, load_tables
from feedstock.model.experience import Experience, Learned
from feedstock.quantities.estimate import Estimate

pytestmark = pytest.mark.worked

TABLES = load_tables(plugins=False)
BURN = Burn(burner="cone pit", width="1 m", depth="0.5 m")
STAYS, VARIANCE = 0.6, 0.01
OWN = Experience(
    learned=(
        Learned(
            figure="volume-per-feed",
            burner="reference:cone-pit",
            feed="wood",
            batches=4,
            shift=math.log(1.1),
            variance=VARIANCE,
            prior_variance=0.06,
            batch_variance=0.03,
            irreducible_fraction=STAYS,
            factor=Estimate(0.93, 1.1, 1.3, "1"),
            batch_weight=80,
        ),
    )
)
COUNTED: dict[str, Any] = {"pieces": {"count": 10, "diameter": "60 mm", "length": "1 m"}}
STACKED: dict[str, Any] = {
    "stack": {"shape": "box", "width": "1 m", "length": "1 m", "height": "0.5 m"}
}


def lot(**amount: Any) -> Heap:
    words: dict[str, Any] = {"material": "oak", "moisture": "18 % dry", "origin": "own trees"}
    return Heap(lots=[Lot(**words, **amount)])


@pytest.mark.parametrize("amount", [COUNTED, STACKED])
def test_density_and_moisture_of_measured_wood_cancel(amount: dict[str, Any]) -> None:
    result = appraise(lot(**amount), BURN, TABLES, experience=OWN)
    shares = {each.name: each.share for each in result.explain("lots[0].char_volume").inputs}
    assert shares["char_volume_own"] > 0
    # The density of char follows the oven-dry density, that of wood as it lies at 18 % dry has
    # shrunk four tenths of the way: their logs differ by 0.118 of that of the basic density, which
    # is 14 % on a width of some 45 %, so that (0.118 x 14 / 45)^2 = 0.0013 of the square is left.
    for name in ("basic_density", "decay", "moisture", "bark_volume", "bark_density"):
        assert shares.get(name, 0.0) <= 0.002, name


def test_the_width_is_what_batches_leave() -> None:
    """On the log scale, as root of squares: the size of the pieces in full, the char side with the
    part that stays, and the doubt of the level that was learnt. Tables alone: the same without the
    last and with the char side in full. A log-linear product, so that the sum is exact but for
    lopsided parts; the two differences of variances agree within a tenth.
    """

    def variance(experience: Experience | None) -> float:
        volume = appraise(lot(**COUNTED), BURN, TABLES, experience=experience).lots[0].char_volume
        assert volume is not None
        return (math.log(volume.high_value / volume.low_value) / 2 / 1.6449) ** 2

    # 4 % of the length (once) and of the diameter (squared), each at 90 %
    size = (math.log(1.04 / 0.96) / 2 / 1.6449) ** 2 * (1 + 4)
    alone = variance(None)
    assert variance(OWN) == pytest.approx(size + STAYS**2 * (alone - size) + VARIANCE, rel=0.02)


def test_weighed_wood_keeps_its_density_on_the_char_side() -> None:
    result = appraise(lot(mass="20 kg"), BURN, TABLES, experience=OWN)
    shares = {each.name: each.share for each in result.explain("lots[0].char_volume").inputs}
    assert shares["basic_density"] > 0
