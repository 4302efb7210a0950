"""Elements that are not wanted: from treatment, paint, glue and growth to a share of the feed, of
its char and of the soil.

Shares are by mass, kg of the element per kg of dry matter. Yields are kept, sorted, dry char per
dry feed, without soil.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..uncertainty.elementwise import maximum, minimum, total
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "element of treated wood",
    "mass balance, e R / D, with the retention on the volume of the wood",
    retention="kg/m^3",
    fraction="1",
    density="kg/m^3",
    result="1",
)
def element_in_wood(retention: Number, fraction: Number, density: Number) -> Number:
    """Share of an element in dry wood that holds `retention` kg/m3 of a preservative of which
    `fraction` is that element.

    The wood's mass is counted without the preservative, which at 6.4 kg/m3 in 510 kg/m3 gives 1.3 %
    more than with it.

    Takes `retention` [kg/m^3], `fraction` [1], `density` [kg/m^3]; returns [1].

    >>> round(element_in_wood(6.4, 0.22, 510.0), 5)
    0.00276
    """
    return fraction * retention / density


@formula(
    "element on a painted face",
    "mass balance, n d rho w",
    coats="1",
    thickness="m",
    density="kg/m^3",
    share="1",
    result="kg/m^2",
)
def film_loading(coats: Number, thickness: Number, density: Number, share: Number) -> Number:
    """Mass of an element on the area of a face, kg/m2, under `coats` dry films of which `share` is
    that element. 1 mg/cm2 is 0.01 kg/m2.

    Takes `coats` [1], `thickness` [m], `density` [kg/m^3], `share` [1]; returns [kg/m^2].

    >>> round(film_loading(3.0, 0.00005, 1400.0, 0.1), 3)
    0.021
    """
    return coats * thickness * density * share


@formula(
    "element of a painted board",
    "mass balance, n sigma / (t D)",
    faces="1",
    loading="kg/m^2",
    thickness="m",
    density="kg/m^3",
    result="1",
)
def element_in_board(faces: Number, loading: Number, thickness: Number, density: Number) -> Number:
    """Share of an element in a dry board of which `faces` faces bear `loading` kg/m2 each; the mass
    of the film is not counted.

    Takes `faces` [1], `loading` [kg/m^2], `thickness` [m], `density` [kg/m^3]; returns [1].

    >>> round(element_in_board(2.0, 0.01, 0.02, 500.0), 5)
    0.002
    """
    return faces * loading / (thickness * density)


@formula(
    "element of a glued or filled feed", "mass balance, b e", agent="1", fraction="1", result="1"
)
def element_of_agent(agent: Number, fraction: Number) -> Number:
    """Share of an element in a dry feed of which `agent` is a resin, a salt or a plastic, and
    `fraction` of that is the element.

    Takes `agent` [1], `fraction` [1]; returns [1].

    >>> round(element_of_agent(0.08, 0.3), 4)
    0.024
    """
    return agent * fraction


@formula(
    "background and what was added", "mass balance, a sum", background="1", added="1", result="1"
)
def with_background(background: Number, added: Number) -> Number:
    """Share of an element that the clean material holds by itself together with what was added to
    it.

    Takes `background` [1], `added` [1]; returns [1].

    >>> with_background(0.001, 0.002)
    0.003
    """
    return background + added


@formula(
    "element in char",
    "mass balance, c r / Y",
    content="1",
    retained="1",
    char_yield="1",
    result="1",
)
def in_char(content: Number, retained: Number, char_yield: Number) -> Number:
    """Share of an element in dry char, when `retained` of it stays (1: no loss is credited) and the
    feed leaves `char_yield` (above 0).

    Takes `content` [1], `retained` [1], `char_yield` [1]; returns [1].

    >>> in_char(0.0005, 1.0, 0.25)
    0.002
    """
    return content * retained / char_yield


@formula(
    "mass of an element in char",
    "mass balance, m c r",
    dry_mass="kg",
    content="1",
    retained="1",
    result="kg",
)
def element_mass(dry_mass: Number, content: Number, retained: Number) -> Number:
    """Mass, kg, of an element that a lot of `dry_mass` kg brings into the char.

    Takes `dry_mass` [kg], `content` [1], `retained` [1]; returns [kg].

    >>> round(element_mass(20.0, 0.001, 0.9), 4)
    0.018
    """
    return dry_mass * content * retained


@formula(
    "element in the char of a mixed heap",
    "mass balance, sum(m c r) / sum(m Y)",
    elements="kg",
    chars="kg",
    result="1",
)
def in_mixed_char(elements: Sequence[Number], chars: Sequence[Number]) -> Number:
    """Share of an element in the char of several lots burnt together.

    Raises ZeroDivisionError where there is no char.

    Takes `elements` [kg], `chars` [kg]; returns [1].

    >>> in_mixed_char([0.01, 0.0], [5.0, 15.0])
    0.0005
    """
    return total(elements) / total(chars)


@formula(
    "largest share before a limit breaks",
    "the mass balance of two feeds solved for the share of the first",
    limit="1",
    content="1",
    retained="1",
    char_yield="1",
    clean="1",
    clean_retained="1",
    clean_yield="1",
    result="1",
)
def largest_share(
    limit: Number,
    content: Number,
    retained: Number,
    char_yield: Number,
    clean: Number,
    clean_retained: Number,
    clean_yield: Number,
) -> Number:
    """Share of the dry mass (0 to 1) of a feed in a clean one at which the char of both holds just
    `limit`.

    0 where the clean feed alone passes the limit, 1 where even the feed alone does not. It explains
    why a feed is kept out and is no recipe: a heap is never mixed well enough, and what leaves the
    char is breathed.

    Takes `limit` [1], `content` [1], `retained` [1], `char_yield` [1], `clean` [1],
    `clean_retained` [1], `clean_yield` [1]; returns [1].

    >>> round(largest_share(0.00001, 0.001, 1.0, 0.25, 0.0, 1.0, 0.25), 5)
    0.0025
    """
    room = limit * clean_yield - clean * clean_retained
    excess = content * retained - limit * char_yield
    # both clipped, so that one formula serves arrays too; the least positive number keeps 0/0 from
    # arising
    room, excess = maximum(room, 0.0 * room), maximum(excess, 0.0 * excess)
    return minimum(room / (excess + room + 1e-300), 1.0 + 0.0 * room)


@formula(
    "what a dressing adds to soil",
    "mass balance, M C / (h rho)",
    dressing="kg/m^2",
    content="1",
    depth="m",
    density="kg/m^3",
    result="1",
)
def soil_addition(dressing: Number, content: Number, depth: Number, density: Number) -> Number:
    """Rise of an element's share in dry soil when `dressing` kg/m2 of char is worked `depth` m deep
    into soil of `density` kg/m3.

    Takes `dressing` [kg/m^2], `content` [1], `depth` [m], `density` [kg/m^3]; returns [1].

    >>> round(1e6 * soil_addition(1.0, 0.0001, 0.2, 1250.0), 3)
    0.4
    """
    return dressing * content / (depth * density)


@formula(
    "dressing that keeps a yearly load",
    "mass balance, L / C",
    yearly="kg/m^2",
    content="1",
    result="kg/m^2",
)
def dressing_within(yearly: Number, content: Number) -> Number:
    """Char that may be spread on a bed in a year, kg/m2, so that what it holds of an element stays
    within a `yearly` load.

    Raises ZeroDivisionError where the char holds none.

    Takes `yearly` [kg/m^2], `content` [1]; returns [kg/m^2].

    >>> round(dressing_within(0.5e-6, 5e-6), 3)
    0.1
    """
    return yearly / content


@formula(
    "share of ash in char",
    "mass balance, a k / Y",
    ash="1",
    ash_kept="1",
    char_yield="1",
    result="1",
)
def ash_of_char(ash: Number, ash_kept: Number, char_yield: Number) -> Number:
    """Share of mineral matter in dry char of a feed with the share `ash`, of which `ash_kept` stays
    with the char.

    Takes `ash` [1], `ash_kept` [1], `char_yield` [1]; returns [1].

    >>> round(ash_of_char(0.05, 0.86, 0.25), 3)
    0.172
    """
    return ash * ash_kept / char_yield
