"""Water in plant matter: the two bases, weighing, equilibrium with air, the ceiling, water to
lose.
"""

from __future__ import annotations

from ..uncertainty.elementwise import maximum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula("dry basis from wet basis", "mass balance, u = w / (1 - w)", wet="1", result="1")
def dry_basis(wet: Number) -> Number:
    """Water per dry matter (0 and up) from water per whole mass (0 to below 1).

    Takes `wet` [1]; returns [1].

    >>> dry_basis(0.2)
    0.25
    """
    return wet / (1.0 - wet)


@formula("wet basis from dry basis", "mass balance, w = u / (1 + u)", dry="1", result="1")
def wet_basis(dry: Number) -> Number:
    """Water per whole mass from water per dry matter.

    Takes `dry` [1]; returns [1].

    >>> wet_basis(0.25)
    0.2
    """
    return dry / (1.0 + dry)


@formula(
    "oven-dry mass of a weighed lot",
    "mass balance, m_dry = m (1 - w)",
    mass="kg",
    wet="1",
    result="kg",
)
def oven_dry_mass(mass: Number, wet: Number) -> Number:
    """Oven-dry mass, kg, of a mass as it lies, kg, with wet-basis moisture `wet` (0 to below 1).

    Takes `mass` [kg], `wet` [1]; returns [kg].

    >>> oven_dry_mass(40.0, 0.2)
    32.0
    """
    return mass * (1.0 - wet)


@formula(
    "wet basis from weighing",
    "mass balance, w = (m - m_dry) / m; ASTM D4442 gives the oven method",
    mass="kg",
    dry_mass="kg",
    result="1",
)
def wet_from_weighing(mass: Number, dry_mass: Number) -> Number:
    """Wet-basis moisture of a sample weighed before (`mass`) and after (`dry_mass`) drying at 103
    degC.

    Takes `mass` [kg], `dry_mass` [kg]; returns [1].

    >>> round(wet_from_weighing(412.0, 330.0), 3)
    0.199
    """
    return (mass - dry_mass) / mass


@formula(
    "equilibrium moisture content",
    "Hailwood and Horrobin 1946; Wood Handbook 2010 eq. 4-5",
    temperature="degC",
    humidity="1",
    result="1",
)
def equilibrium_moisture(
    temperature: Number,
    humidity: Number,
    w0: float,
    w1: float,
    w2: float,
    k0: float,
    k1: float,
    k2: float,
    a0: float,
    a1: float,
    a2: float,
    b0: float,
    b1: float,
    b2: float,
) -> Number:
    """Dry-basis moisture that wood takes up in air of `temperature` (degC, -1 to 99) and relative
    `humidity` (0 to 1).

    The coefficients are those of W, K, K1 and K2, each a quadratic in degC.

    Takes `temperature` [degC], `humidity` [1]; returns [1].

    >>> w = (349.0, 1.29, 0.0135, 0.805, 0.000736, -0.00000273)
    >>> a = (6.27, -0.00938, -0.000303, 1.91, 0.0407, -0.000293)
    >>> round(equilibrium_moisture(21.1, 0.65, *w, *a), 2)
    0.12
    """
    w = w0 + w1 * temperature + w2 * temperature**2
    k = k0 + k1 * temperature + k2 * temperature**2
    first = a0 + a1 * temperature + a2 * temperature**2
    second = b0 + b1 * temperature + b2 * temperature**2
    kh = k * humidity
    hydrates = (first * kh + 2.0 * first * second * kh**2) / (
        1.0 + first * kh + first * second * kh**2
    )
    return 18.0 / w * (kh / (1.0 - kh) + hydrates)


@formula(
    "highest possible moisture",
    "Wood Handbook 2010 eq. 4-3",
    specific_gravity="1",
    cell_wall="1",
    result="1",
)
def highest_moisture(specific_gravity: Number, cell_wall: float) -> Number:
    """Dry-basis moisture of wood with all its voids full of water; `specific_gravity` is basic,
    `cell_wall` that of the wall.

    Takes `specific_gravity` [1], `cell_wall` [1]; returns [1].

    >>> round(highest_moisture(0.5, 1.5), 3)
    1.333
    """
    return (cell_wall - specific_gravity) / (cell_wall * specific_gravity)


@formula(
    "water to lose",
    "mass balance, m_dry (u - u_target)",
    dry_mass="kg",
    dry="1",
    target="1",
    result="kg",
)
def water_to_lose(dry_mass: Number, dry: Number, target: Number) -> Number:
    """Water, kg (about litres), that must leave until the wet-basis moisture `target` is reached; 0
    if it is drier.

    Takes `dry_mass` [kg], `dry` [1], `target` [1]; returns [kg].

    >>> water_to_lose(32.0, 0.5, 0.2)
    8.0
    """
    return dry_mass * maximum(dry - target / (1.0 - target), 0.0)


@formula(
    "moisture with the doubt of its instrument",
    "mass balance, kept between bone dry and all water",
    share="1",
    error="1",
    result="1",
)
def with_error(share: Number, error: Number) -> Number:
    """A moisture (either basis) moved by an error in points, not below 0.1 %.

    Takes `share` [1], `error` [1]; returns [1].

    >>> round(with_error(0.2, -0.05), 3)
    0.15
    """
    return maximum(share + error, 0.001)


@formula("mass as it lies", "mass balance, m_dry / (1 - w)", dry_mass="kg", wet="1", result="kg")
def mass_as_it_lies(dry_mass: Number, wet: Number) -> Number:
    """Mass, kg, of this much dry matter with its water, a share `wet` (below 1) of the whole.

    Takes `dry_mass` [kg], `wet` [1]; returns [kg].

    >>> mass_as_it_lies(32.0, 0.2)
    40.0
    """
    return dry_mass / (1.0 - wet)
