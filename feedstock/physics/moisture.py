"""Water in plant matter: the two bases, weighing, equilibrium with air, the ceiling, water to
lose.
"""

from __future__ import annotations

from ..uncertainty.elementwise import greatest
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula("dry basis from wet basis", "identity, u = w / (1 - w)", wet="1", result="1")
def dry_basis(wet: Number) -> Number:
    """Water per dry matter (0 and up) from water per whole mass (0 to below 1)."""
    return wet / (1.0 - wet)


@formula("wet basis from dry basis", "identity, w = u / (1 + u)", dry="1", result="1")
def wet_basis(dry: Number) -> Number:
    """Water per whole mass from water per dry matter."""
    return dry / (1.0 + dry)


@formula(
    "oven-dry mass of a weighed lot", "identity, m_dry = m (1 - w)", mass="kg", wet="1", result="kg"
)
def oven_dry_mass(mass: Number, wet: Number) -> Number:
    """Oven-dry mass, kg, of a mass as it lies, kg, with wet-basis moisture `wet` (0 to below 1)."""
    return mass * (1.0 - wet)


@formula(
    "wet basis from weighing",
    "identity, w = (m - m_dry) / m; ASTM D4442 gives the oven method",
    mass="kg",
    dry_mass="kg",
    result="1",
)
def wet_from_weighing(mass: Number, dry_mass: Number) -> Number:
    """Wet-basis moisture of a sample weighed before (`mass`) and after (`dry_mass`) drying at 103
    degC.
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
    """
    return (cell_wall - specific_gravity) / (cell_wall * specific_gravity)


@formula("water in the lot", "identity, m_dry u", dry_mass="kg", dry="1", result="kg")
def water(dry_mass: Number, dry: Number) -> Number:
    """Mass of water, kg, in oven-dry matter of dry-basis moisture `dry`."""
    return dry_mass * dry


@formula(
    "water to lose",
    "identity, m_dry (u - u_target)",
    dry_mass="kg",
    dry="1",
    target="1",
    result="kg",
)
def water_to_lose(dry_mass: Number, dry: Number, target: Number) -> Number:
    """Water, kg (about litres), that must leave until the wet-basis moisture `target` is reached; 0
    if it is drier.
    """
    return dry_mass * greatest(dry - target / (1.0 - target), 0.0)


@formula(
    "moisture with the doubt of its instrument",
    "identity, kept between bone dry and all water",
    share="1",
    error="1",
    result="1",
)
def with_error(share: Number, error: Number) -> Number:
    """A moisture (either basis) moved by an error in points, not below 0.1 %."""
    return greatest(share + error, 0.001)


@formula("mass as it lies", "identity, m_dry / (1 - w)", dry_mass="kg", wet="1", result="kg")
def mass_as_it_lies(dry_mass: Number, wet: Number) -> Number:
    """Mass, kg, of this much dry matter with its water, a share `wet` (below 1) of the whole."""
    return dry_mass / (1.0 - wet)
