"""How long a piece takes to char through, how far it is when the burn stops early, and how fast a
fire eats its feed.

Times in s, lengths in m, masses in kg dry. Published coefficients keep the units of their source
(minutes and millimetres), since a reader will compare them with it; they are turned into SI here.
"""

from __future__ import annotations

from ..uncertainty.elementwise import greatest, least
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number

_MINUTE = 60.0
_MILLIMETRES = 1000.0
# the least denominator: pieces of one age are all through or none
_NOTHING = 1e-300


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
    """
    return _MINUTE * factor * coefficient * (_MILLIMETRES * depth) ** exponent


@formula(
    "char depth by time",
    "Wood Handbook, FPL-GTR-190 (2010), eq. 18-3 solved for x",
    time="s",
    coefficient="min/mm^1.23",
    factor="1",
    result="m",
)
def depth_at(time: Number, coefficient: Number, factor: Number, exponent: float) -> Number:
    """Depth of the char front after `time` in flame, in a piece thick enough not to have charred
    through.
    """
    return (time / (_MINUTE * factor * coefficient)) ** (1.0 / exponent) / _MILLIMETRES


@formula("mean diameter", "identity", butt="m", top="m", result="m")
def mean_diameter(butt: Number, top: Number) -> Number:
    """The diameter of a tapered piece in its middle, by which its time in the flame is told."""
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
    """
    thick = time_to_depth(thickness / 2.0, coefficient, factor, exponent)
    return thin + (thickness >= thin_below) * greatest(thick - thin, 0.0)


@formula(
    "uncharred core of a piece",
    "identity, (1 - x/R)^n with x/R = (t/T)^(1/1.23): n 2 for a round or a square, 1 for a board",
    age="s",
    through="s",
    sides="1",
    result="1",
)
def core_share(age: Number, through: Number, sides: float, exponent: float) -> Number:
    """Share of a piece's section that the front has not reached after `age` in flame, of `through`
    needed; 0 once through.
    """
    return (1.0 - least(greatest(age, 0.0) / through, 1.0) ** (1.0 / exponent)) ** sides


@formula(
    "share of the pieces not charred through",
    "identity: pieces laid on evenly over time, those younger than T",
    youngest="s",
    oldest="s",
    through="s",
    result="1",
)
def not_through(youngest: Number, oldest: Number, through: Number) -> Number:
    """Share of pieces still with a core when the burn stops, their ages spread evenly from
    `youngest` to `oldest`.

    With equal ages it is all of them or none.
    """
    return least(greatest((through - youngest) / greatest(oldest - youngest, _NOTHING), 0.0), 1.0)


@formula(
    "linear char depth",
    "EN 1995-1-2:2004, eq. 3.1: d = beta t",
    time="s",
    rate="mm/min",
    result="m",
)
def linear_depth(time: Number, rate: Number) -> Number:
    """Char depth in the standard fire at a constant rate in mm/min."""
    return rate * time / _MINUTE / _MILLIMETRES


@formula(
    "time to a char depth at a constant rate",
    "EN 1995-1-2:2004, eq. 3.1 solved for t",
    depth="m",
    rate="mm/min",
    result="s",
)
def linear_time(depth: Number, rate: Number) -> Number:
    return _MINUTE * _MILLIMETRES * depth / rate


@formula(
    "charring rate of hardwood",
    "EN 1995-1-2:2004, table 3.1, linear between the two densities",
    density="kg/m^3",
    result="mm/min",
)
def hardwood_rate(
    density: Number, light: float, heavy: float, rate_light: float, rate_heavy: float
) -> Number:
    """Rate in mm/min at a characteristic density; constant below `light` and above `heavy`."""
    up = least(greatest((density - light) / (heavy - light), 0.0), 1.0)
    return rate_light + (rate_heavy - rate_light) * up


@formula(
    "charring rate by density",
    "AS 1720.4:2006: 0.4 + (280/rho12)^2",
    density="kg/m^3",
    result="mm/min",
)
def rate_by_density(density: Number, constant: float, scale: float) -> Number:
    """Rate in mm/min at the density at 12 % moisture."""
    return constant + (scale / density) ** 2


@formula(
    "linear char slowness",
    "Wood Handbook, FPL-GTR-190 (2010), eq. 18-2",
    density="kg/m^3",
    moisture="1",
    result="min/mm",
)
def slowness(
    density: Number, moisture: Number, per_density: float, per_both: float, constant: float
) -> Number:
    """Minutes per mm of one species; `density` is dry mass over volume at that moisture (share of
    the dry mass).
    """
    return (per_density + per_both * moisture) * density + constant


@formula(
    "burning rate by mass loss of a wood face",
    "identity: loss of a face times exposed face per rim",
    loss="kg/m^2/s",
    exposed="1",
    result="kg/m^2/s",
)
def rate_from_face(loss: Number, exposed: Number) -> Number:
    """Feed eaten per rim area from the mass loss of one wood face and how much face the feed shows
    per rim area.
    """
    return loss * exposed


@formula(
    "dry feed that a fire eats",
    "identity, rate x rim area x share alive x time",
    rate="kg/m^2/s",
    rim="m^2",
    alive="1",
    time="s",
    result="kg",
)
def feed_burnt(rate: Number, rim: Number, alive: Number, time: Number) -> Number:
    """Dry feed, kg, from lighting to quench; `alive` is the share of the rim area in flame, 1 for a
    fire fed all over.
    """
    return rate * rim * alive * time


@formula(
    "time to burn a feed",
    "identity, dry feed / (rate x rim area x share alive)",
    dry_mass="kg",
    rate="kg/m^2/s",
    rim="m^2",
    alive="1",
    result="s",
)
def time_to_feed(dry_mass: Number, rate: Number, rim: Number, alive: Number) -> Number:
    return dry_mass / (rate * rim * alive)


@formula(
    "time of the front to the floor",
    "identity, depth of the load / speed of the front",
    depth="m",
    speed="mm/min",
    result="s",
)
def front_time(depth: Number, speed: Number) -> Number:
    """Time for the fire to eat its way down a load that was lit on top; the load may stand above
    the rim.
    """
    return _MINUTE * _MILLIMETRES * depth / speed


@formula(
    "depth of the front",
    "identity, speed x time, at most the load",
    time="s",
    speed="mm/min",
    depth="m",
    result="m",
)
def front_depth(time: Number, speed: Number, depth: Number) -> Number:
    """How far down the front stands after `time`; what lies below it is uncharred feed."""
    return least(speed * time / _MINUTE / _MILLIMETRES, depth)


@formula(
    "speed of the front by burning rate",
    "identity, rate / dry mass per volume of the load",
    rate="kg/m^2/s",
    load_density="kg/m^3",
    result="mm/min",
)
def front_speed(rate: Number, load_density: Number) -> Number:
    """The speed that a burning rate per area means in a load of that dry mass per heaped volume; a
    check on the judged speed.
    """
    return _MINUTE * _MILLIMETRES * rate / load_density
