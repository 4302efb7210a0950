"""What must hold for every value of the reference tables, and the words that they must know."""

from __future__ import annotations

import pytest

from builders import tables
from feedstock.physics.moisture import dry_basis, highest_moisture
from feedstock.quantities.cell import UNSOURCED, Cell
from feedstock.tables.loading.raw import KINDS
from feedstock.tables.loading.references import cells_of, used_sources
from feedstock.tables.names.index import folded
from feedstock.tables.rows.material import Material
from feedstock.tables.rows.methods.wood import WoodWater
from feedstock.tables.rows.row import Sourced

FIRST_WORDS = {
    "materials": """hardwood, softwood, oak, beech, birch, ash wood, maple, willow, poplar, apple,
        cherry, pine, spruce, fir, larch, bark, twigs, rotted wood, bamboo, wheat straw,
        barley straw, rice straw, hay, reed, maize stover, maize cobs, sunflower stalks,
        garden stalks, leaves, pine needles, walnut shell, almond shell, olive stones,
        rice husk, horse manure, cattle manure, poultry manure, cardboard, brands, sawn
        offcuts, pallet wood, plywood, OSB, particleboard, MDF, treated timber, painted
        wood, railway sleeper, driftwood""",
    "signs": """bare wood, bark on, mark HT, mark DH, mark MB, mark SF, no mark, painted,
        flaking paint, varnished, green tint, incising slits, end tag, tar smell, glue
        line, finger joint, laminate, glossy, salt, mould, spill, stained or oiled,
        nails or wire, plastic, soil on it, not sprayed two seasons, sprayed, spray
        history unknown""",
    "origins": """own trees, own garden, farm, tree surgeon, bought firewood, pallet, building
        site, deck, fence, furniture, railway, roadside, orchard, shore, workshop,
        unknown""",
    "burners": "cone pit, pit, trench, kettle, drum, barbecue, campfire, retort, mound",
}
WORDS = [
    (kind, " ".join(word.split()))
    for kind, words in FIRST_WORDS.items()
    for word in words.split(",")
]


def cells() -> list[tuple[str, Cell]]:
    """Every cell of every row, with a name that says where it is; inherited ones too."""
    return [
        (f"{kind} {full} {'.'.join(map(str, path))}", cell)
        for kind, rows in tables().rows.items()
        for full, row in rows.items()
        for path, cell in cells_of(row)
    ]


def materials() -> list[tuple[str, Material]]:
    return [(full, tables().material(full)) for full in tables().rows["materials"]]


def total(row: Material, needed: str, at_will: str = "") -> float | None:
    """The sum of the values of the named fields in per cent; None where one that is needed is
    missing.
    """
    found: list[Cell | None] = [getattr(row, name) for name in needed.split()]
    more: list[Cell | None] = [getattr(row, name) for name in at_will.split()]
    if any(cell is None for cell in found):
        return None
    return 100 * sum(cell.mid for cell in (*found, *more) if cell is not None)


@pytest.mark.property
def test_every_interval_encloses_its_value() -> None:
    assert len(cells()) > 3000
    assert [where for where, cell in cells() if not cell.low <= cell.mid <= cell.high] == []


@pytest.mark.property
def test_every_amount_and_share_is_possible() -> None:
    shares = [(where, cell) for where, cell in cells() if cell.dimension == "share"]
    # a closed burner may keep more than a laboratory
    assert [
        where
        for where, cell in shares
        if not 0 <= cell.low <= cell.high <= (2 if where.endswith(" char_retention") else 1)
    ] == []
    assert [where for where, cell in cells() if cell.scale == "log" and cell.low < 0] == []


@pytest.mark.property
def test_every_value_that_is_no_judgement_has_its_source_and_place() -> None:
    wrong = [
        where
        for where, cell in cells()
        if cell.known not in UNSOURCED and not (cell.source and cell.at.strip())
    ]
    assert wrong == []
    missing = {
        (where, key)
        for where, cell in cells()
        for key in cell.source
        if tables().source_name(key, "reference") is None
    }
    assert missing == set()


@pytest.mark.property
def test_every_judgement_has_a_reason() -> None:
    assert [
        where for where, cell in cells() if cell.known in UNSOURCED and not cell.note.strip()
    ] == []


@pytest.mark.property
def test_every_row_that_claims_something_has_its_source() -> None:
    rows = [
        (f"{kind} {full}", row)
        for kind in KINDS
        for full, row in tables().rows[kind].items()
        if isinstance(row, Sourced)
    ]
    assert [
        where
        for where, row in rows
        if row.known not in UNSOURCED and not (row.source and row.at.strip())
    ] == []
    assert {
        key
        for _, row in rows
        for key in row.source
        if tables().source_name(key, "reference") is None
    } == set()


@pytest.mark.property
def test_every_source_is_used() -> None:
    used = {
        key for rows in tables().rows.values() for row in rows.values() for key in used_sources(row)
    }
    assert [full for full in tables().rows["sources"] if full.partition(":")[2] not in used] == []


@pytest.mark.property
def test_proximate_analysis_adds_up() -> None:
    sums = {full: total(row, "volatile_matter fixed_carbon ash") for full, row in materials()}
    known = {full: each for full, each in sums.items() if each is not None}
    assert len(known) > 50
    assert {full: round(each, 1) for full, each in known.items() if abs(each - 100) > 2.5} == {}


@pytest.mark.property
def test_ultimate_analysis_adds_up() -> None:
    # sulphur is counted where it is given: it is below half a per cent everywhere
    sums = {
        full: total(row, "carbon hydrogen oxygen nitrogen ash", "sulphur")
        for full, row in materials()
    }
    known = {full: each for full, each in sums.items() if each is not None}
    assert len(known) > 100
    assert {full: round(each, 1) for full, each in known.items() if abs(each - 100) > 2.5} == {}


@pytest.mark.property
def test_structure_is_at_most_the_whole() -> None:
    sums = {full: total(row, "cellulose hemicellulose lignin") for full, row in materials()}
    known = {full: each for full, each in sums.items() if each is not None}
    assert len(known) > 50
    assert {full: round(each, 1) for full, each in known.items() if each > 105} == {}


@pytest.mark.property
def test_green_wood_is_not_wetter_than_its_voids_allow() -> None:
    """Wood Handbook eq.

    4-3 at the lower end of the density: above it no tree of the row could hold the middle green
    moisture.
    """
    wall = tables().method("wood-water", WoodWater)[1].cell_wall.mid
    wrong = {}
    for full, row in materials():
        green = row.moisture.get("green")
        if green is None or row.basic_density is None or row.class_ not in ("hardwood", "softwood"):
            continue
        dry = green.mid if green.basis == "dry" else dry_basis(green.mid)
        if dry > highest_moisture(row.basic_density.low / 1000, wall):
            wrong[full] = dry
    assert wrong == {}


@pytest.mark.regression
def test_there_are_enough_materials() -> None:
    classes = [row.class_ for _, row in materials()]
    assert len(classes) >= 75
    assert classes.count("hardwood") >= 24
    assert classes.count("softwood") >= 16


@pytest.mark.regression
@pytest.mark.parametrize("kind, word", WORDS)
def test_first_words_are_known(kind: str, word: str) -> None:
    for spelling in (word, word.upper(), word.replace(" ", "-")):
        assert tables().find(kind, spelling) in tables().rows[kind]


@pytest.mark.regression
@pytest.mark.parametrize(
    "word",
    [
        "oaks",
        "birches",
        "wheat straws",
        "leaf",
        "walnut shells",
        "almond shells",
        "railway sleepers",
        "twig",
    ],
)
def test_plurals_find_their_row(word: str) -> None:
    assert tables().find("materials", word)


@pytest.mark.property
@pytest.mark.parametrize("kind", KINDS)
def test_no_name_belongs_to_two_rows(kind: str) -> None:
    held: dict[str, set[str]] = {}
    for full, row in tables().rows[kind].items():
        for name in (
            full.partition(":")[2],
            *(name for names in row.names.values() for name in names),
        ):
            held.setdefault(folded(name), set()).add(full)
    assert {name: rows for name, rows in held.items() if len(rows) > 1} == {}


@pytest.mark.property
@pytest.mark.parametrize("kind", KINDS)
def test_every_name_finds_its_own_row(kind: str) -> None:
    # a plural or singular of one name must not be another row's name either
    for full, row in tables().rows[kind].items():
        for name in (
            full,
            full.partition(":")[2],
            *(name for names in row.names.values() for name in names),
        ):
            assert tables().index(kind).find(name) == [full], name


@pytest.mark.property
def test_rows_that_others_build_on_are_complete() -> None:
    """Every material has what an appraisal needs, its own or inherited: ash, soil, elements, a
    heating value, a thickness and a density.
    """
    wrong = []
    for full, row in materials():
        needed = [
            "ash",
            "soil",
            "carbon",
            "hydrogen",
            "oxygen",
            "nitrogen",
            "heating_value",
            "thickness",
        ]
        needed += ["basic_density"] if row.form in ("round", "brush", "sawn", "board") else []
        wrong += [f"{full} {name}" for name in needed if getattr(row, name) is None]
        if not row.moisture or (row.basic_density is None and not row.bulk_density):
            wrong.append(f"{full} moisture or density")
        if not row.woody and row.char_bulk_density is None and not row.bulk_density:
            wrong.append(f"{full} char_bulk_density, or a bulk_density from which it follows")
    assert wrong == []
