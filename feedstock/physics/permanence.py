"""How much of the char's carbon is still in the soil after a hundred years, and the carbon dioxide
it stands for.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ..uncertainty.elementwise import maximum, minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "value between table points",
    "interpolation and mass balance, linear between neighbours, flat outside",
    at="degC",
    result="1",
)
def between(at: Number, points: Sequence[float], values: Sequence[float]) -> Number:
    """`values` given at rising `points`, read off at `at`: linear between two points, the end value
    outside.

    Raises ValueError unless there are as many values as points, at least one, and the points rise.

    Takes `at` [degC]; returns [1].

    >>> round(between(12.0, (10.0, 15.0), (0.9, 0.8)), 3)
    0.86
    """
    if len(points) != len(values) or not points or any(a >= b for a, b in pairwise(points)):
        raise ValueError("points must rise and each must have one value")
    total: Number = values[0] + 0.0 * at
    for (left, low), (right, high) in pairwise(zip(points, values, strict=True)):
        total = total + (high - low) * minimum(maximum(at - left, 0.0), right - left) / (
            right - left
        )
    return total


@formula(
    "carbon left after the horizon",
    "Woolf et al. 2021, Environ. Sci. Technol. 55:14795: F = c + m H/C, kept within 0 to 1",
    ratio="1",
    intercept="1",
    slope="1",
    error="1",
    result="1",
)
def permanence(ratio: Number, intercept: Number, slope: Number, error: Number = 0.0) -> Number:
    """Share of the char's organic carbon left in soil at the end of the horizon, by its molar H/C.

    `intercept` and `slope` are those of the soil temperature (`between`); `error` is the residual,
    whose standard deviation stands in the same table. Not for chars whose H/C is above the limit of
    the table: see `applies`.

    Takes `ratio` [1], `intercept` [1], `slope` [1], `error` [1]; returns [1].

    >>> permanence(0.4, 1.0, -0.5, 0.0)
    0.8
    """
    return minimum(maximum(intercept + slope * ratio + error, 0.0), 1.0)


def applies(ratio: float, limit: float) -> bool:
    """Whether the permanence line may be read at this molar H/C: above `limit` the incubations
    scatter too far to give a figure.

    Plain numbers [1] in and out.

    >>> applies(0.5, 0.7)
    True
    """
    return 0.0 <= ratio <= limit


def band_of(temperature: float, floors: Sequence[float]) -> int | None:
    """Index of the highest of the rising `floors` (degC) that `temperature` reaches; None below the
    first.

    Plain numbers [1] in and out.

    >>> band_of(520.0, (350.0, 450.0, 600.0))
    1
    """
    reached = [index for index, floor in enumerate(floors) if temperature >= floor]
    return reached[-1] if reached else None


@formula(
    "carbon added to mineral soil by one char",
    "IPCC 2019 Refinement, vol. 4 ch. 2 appendix 4, one term of equation 4Ap.1",
    mass="kg",
    carbon="1",
    permanence="1",
    result="kg",
)
def kept_carbon(mass: Number, carbon: Number, permanence: Number) -> Number:
    """Organic carbon, kg, left after the horizon, of dry char of organic-carbon share `carbon`.

    Takes `mass` [kg], `carbon` [1], `permanence` [1]; returns [kg].

    >>> kept_carbon(10.0, 0.8, 0.75)
    6.0
    """
    return mass * carbon * permanence


@formula(
    "carbon dioxide for carbon",
    "interpolation and mass balance, m (M_C + 2 M_O) / M_C",
    carbon="kg",
    atomic_carbon="g/mol",
    atomic_oxygen="g/mol",
    result="kg",
)
def carbon_dioxide(carbon: Number, atomic_carbon: float, atomic_oxygen: float) -> Number:
    """Carbon dioxide, kg, that holds `carbon` kg of carbon, by standard atomic weights.

    Takes `carbon` [kg], `atomic_carbon` [g/mol], `atomic_oxygen` [g/mol]; returns [kg].

    >>> round(carbon_dioxide(12.011, 12.011, 15.999), 3)
    44.009
    """
    return carbon * (atomic_carbon + 2.0 * atomic_oxygen) / atomic_carbon
