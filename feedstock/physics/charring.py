"""How long a piece takes to char through, how far it is when the burn stops early, and how fast a
fire eats its feed.

Times in s, lengths in m, masses in kg dry. Published coefficients keep the units of their source
(minutes and millimetres), since a reader will compare them with it; they are turned into SI here.
"""

from __future__ import annotations

from ..uncertainty.elementwise import maximum, minimum, sqrt
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number

_MINUTE = 60.0
_MILLIMETRES = 1000.0


@formula(
    "char rate coefficient",
    "Wood Handbook, FPL-GTR-190 (2010), eq. 18-4",
    density="kg/m^3",
    moisture="1",
    contraction="1",
    result="min/mm^1.23",
)
def char_coefficient(
    density: Number,
    moisture: Number,
    contraction: Number,
    constant: float,
    per_density: float,
    per_moisture: float,
    per_contraction: float,
) -> Number:
    """m of t = m x^1.23, in min and mm: -0.147 + 0.000564 rho0 + 1.21 u + 0.532 fc.

    `density` is oven-dry mass over oven-dry volume (data 310 to 691 kg/m3), `moisture` the share of
    the dry mass (data 0.08 to 0.09), `contraction` the thickness of the char layer over that of the
    wood it came from (data 0.52 to 0.86).

    Takes `density` [kg/m^3], `moisture` [1], `contraction` [1]; returns [min/mm^1.23].

    >>> round(char_coefficient(500.0, 0.12, 0.6, -0.147, 0.000564, 1.21, 0.532), 3)
    0.599
    """
    return (
        constant + per_density * density + per_moisture * moisture + per_contraction * contraction
    )


@formula(
    "time to a char depth",
    "Wood Handbook, FPL-GTR-190 (2010), eq. 18-3: t = m x^1.23",
    depth="m",
    coefficient="min/mm^1.23",
    factor="1",
    result="s",
)
def time_to_depth(depth: Number, coefficient: Number, factor: Number, exponent: float) -> Number:
    """Time until the char front lies `depth` below the surface; `factor` for fires other than the
    standard test.

    Takes `depth` [m], `coefficient` [min/mm^1.23], `factor` [1]; returns [s].

    >>> round(time_to_depth(0.02, 0.6, 1.0, 1.23) / 60, 1)
    23.9
    """
    return _MINUTE * factor * coefficient * (_MILLIMETRES * depth) ** exponent


@formula("mean diameter", "arithmetic mean of both ends", butt="m", top="m", result="m")
def mean_diameter(butt: Number, top: Number) -> Number:
    """The diameter of a tapered piece in its middle, by which its time in the flame is told.

    Takes `butt` [m], `top` [m]; returns [m].

    >>> round(mean_diameter(0.12, 0.06), 3)
    0.09
    """
    return (butt + top) / 2.0


@formula(
    "time to char through",
    "Wood Handbook, FPL-GTR-190 (2010), eq. 18-3 on the half thickness; thin pieces by judgement",
    thickness="m",
    coefficient="min/mm^1.23",
    factor="1",
    thin="s",
    thin_below="m",
    result="s",
)
def through_time(
    thickness: Number,
    coefficient: Number,
    factor: Number,
    thin: Number,
    thin_below: Number,
    exponent: float,
) -> Number:
    """Time in flame until a piece of least dimension `thickness`, heated on all sides, is char to
    its centre.

    A piece thinner than `thin_below` takes `thin`: the equation is for pieces whose centre stays
    cool. No thicker piece is faster than a thin one, however light it is. A hollow stem or a shell
    counts with its wall.

    Takes `thickness` [m], `coefficient` [min/mm^1.23], `factor` [1], `thin` [s], `thin_below` [m];
    returns [s].

    >>> round(through_time(0.04, 0.6, 1.0, 300.0, 0.015, 1.23) / 60, 1)
    23.9
    """
    thick = time_to_depth(thickness / 2.0, coefficient, factor, exponent)
    return thin + (thickness >= thin_below) * maximum(thick - thin, 0.0)


@formula(
    "thickness of a split piece",
    "solid geometry: n pieces of like section share the area, x/sqrt(n)",
    thickness="m",
    pieces="1",
    result="m",
)
def split_thickness(thickness: Number, pieces: Number) -> Number:
    """Least dimension of the parts of a piece that was split lengthwise into so many.

    Takes `thickness` [m], `pieces` [1]; returns [m].

    >>> split_thickness(0.1, 4.0)
    0.05
    """
    return thickness / sqrt(pieces)


@formula(
    "time to char through a split piece",
    "Wood Handbook, FPL-GTR-190 (2010), eq. 18-3 on the thickness of the parts",
    through="s",
    pieces="1",
    result="s",
)
def split_time(through: Number, pieces: Number, exponent: float) -> Number:
    """Time of the parts of a piece that needed `through` before it was split into `pieces`.

    Takes `through` [s], `pieces` [1]; returns [s].

    >>> round(split_time(3000.0, 4.0, 1.23))
    1279
    """
    return through * split_thickness(1.0, pieces) ** exponent


@formula(
    "uncharred core of a piece",
    "definition, (1 - x/R)^n with x/R = (t/T)^(1/1.23): n 2 for a round or a square, 1 for a board",
    age="s",
    through="s",
    sides="1",
    result="1",
)
def core_share(age: Number, through: Number, sides: float, exponent: float) -> Number:
    """Share of a piece's section that the front has not reached after `age` in flame, of `through`
    needed; 0 once through.

    Takes `age` [s], `through` [s], `sides` [1]; returns [1].

    >>> core_share(0.0, 1200.0, 2.0, 1.23)
    1.0
    """
    return (1.0 - minimum(maximum(age, 0.0) / through, 1.0) ** (1.0 / exponent)) ** sides


@formula(
    "dry feed that a fire eats",
    "definition, rate x rim area x burning fraction x time",
    rate="kg/m^2/s",
    rim="m^2",
    burning_fraction="1",
    time="s",
    result="kg",
)
def feed_burnt(rate: Number, rim: Number, burning_fraction: Number, time: Number) -> Number:
    """Dry feed, kg, from lighting to quench; `burning_fraction` is the share of the rim area in
    flame, 1 for a fire fed all over.

    Takes `rate` [kg/m^2/s], `rim` [m^2], `burning_fraction` [1], `time` [s]; returns [kg].

    >>> round(feed_burnt(0.016, 0.8, 1.0, 1800.0), 2)
    23.04
    """
    return rate * rim * burning_fraction * time


@formula(
    "time to burn a feed",
    "definition, dry feed / (rate x rim area x burning fraction)",
    dry_mass="kg",
    rate="kg/m^2/s",
    rim="m^2",
    burning_fraction="1",
    result="s",
)
def time_to_feed(dry_mass: Number, rate: Number, rim: Number, burning_fraction: Number) -> Number:
    """Time to burn a feed.

    Takes `dry_mass` [kg], `rate` [kg/m^2/s], `rim` [m^2], `burning_fraction` [1]; returns [s].

    >>> round(time_to_feed(23.04, 0.016, 0.8, 1.0))
    1800
    """
    return dry_mass / (rate * rim * burning_fraction)


@formula(
    "time of the front to the floor",
    "definition, depth of the load / speed of the front",
    depth="m",
    speed="mm/min",
    result="s",
)
def front_time(depth: Number, speed: Number) -> Number:
    """Time for the fire to eat its way down a load that was lit on top; the load may stand above
    the rim.

    Takes `depth` [m], `speed` [mm/min]; returns [s].

    >>> round(front_time(0.4, 10.0))
    2400
    """
    return _MINUTE * _MILLIMETRES * depth / speed
