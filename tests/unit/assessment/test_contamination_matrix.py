"""A matrix of lots: material, origin, signs, year and region, with the verdict that each must get
and the reason for it.

The verdicts were written down from the hypotheses (sources in tables/sources/contamination.yaml and
load.yaml) before the rows were run. All lots are dry, so that only contamination and handling
decide. `code` is a finding that must be there; `-` stands for no finding that lowers the verdict.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import own_set, tables
from feedstock import FeedstockError, Heap, Lot, Verdict, appraise, load_tables
from feedstock.model.appraisal import Appraisal, LotAppraisal
from feedstock.tables.rows.contaminant import Contaminant
from feedstock.tables.rows.material import Material
from feedstock.tables.tables import Tables
from strategies import examples

pytestmark = pytest.mark.property

ROWS = """
# ---- clean stays clean
oak | own trees | | | | ready | -
beech | own trees | | | | ready | -
apple | own trees | | | | ready | -
birch | own trees | | | | ready | -
pine | own trees | | | | ready | -
spruce | own trees | bark on | | | ready | -
ash wood | own trees | | | | ready | -
maple | own garden | | | | ready | -
cherry | own garden | | | UK | ready | -
larch | own trees | bark on | | EU | ready | -
fir | own trees | | | US | ready | -
hardwood | own trees | | | | ready | -
softwood | own trees | | | | ready | -
twigs | own garden | | | | ready | -
hedge cuttings | own garden | | | | ready | -
rotted wood | own trees | | | | ready | -
bamboo | own garden | | | | ready | -
walnut shell | own garden | | | | ready | -
almond shell | farm | | | | ready | -
olive stones | farm | | | | ready | -
maize cobs | farm | | | | ready | -
garden stalks | own garden | | | | ready | -
sunflower stalks | own garden | | | | ready | -
wheat straw | farm | not sprayed two seasons | | | ready | persistent-herbicide
barley straw | farm | not sprayed two seasons | | | ready | persistent-herbicide
hay | farm | not sprayed two seasons | | | ready | persistent-herbicide
oak | tree surgeon | | | | ready | street-tree
beech | bought firewood | bark on | | | ready | bought-firewood
oak | unknown | | | | ready | unstated-origin
twigs | unknown | | | | ready | unstated-origin
walnut shell | unknown | | | | ready | unstated-origin
oak | own trees | soil on it | | | ready | soil-on-it
oak | own trees | mould | | | ready | mould
oak | own trees | plain steel nails | | | ready | fixings
apple | orchard | no old orchard; not sprayed two seasons | | | ready | old-orchard
# ---- pallets
pallet wood | pallet | mark HT; bare wood | | | ready | heat-treatment-mark
pallet wood | pallet | mark DH; bare wood | | | ready | heat-treatment-mark
pallet wood | pallet | mark HT; mark DB; bare wood | | EU | ready | heat-treatment-mark
pallet wood | pallet | mark HT | | | check first | unmarked-pallet
pallet wood | pallet | heat treated; bare wood | | | check first | unmarked-pallet
pallet wood | pallet | bare wood | | | check first | unmarked-pallet
pallet wood | pallet | no mark | | | check first | unmarked-pallet
pallet wood | pallet | no mark; bare wood | | | check first | unmarked-pallet
pallet wood | pallet | | | | check first | unmarked-pallet
pallet wood | unknown | | | | check first | unmarked-pallet
pallet wood | pallet | mark HT; no mark; bare wood | | | check first | conflicting-signs
pallet wood | pallet | mark DB; bare wood | | | check first | unmarked-pallet
pallet wood | pallet | mark MB | | | keep out | fumigated-pallet
pallet wood | pallet | mark SF; bare wood | | | keep out | fumigated-pallet
pallet wood | pallet | mark HT; mark MB; bare wood | | | keep out | fumigated-pallet
pallet wood | pallet | mark HT; painted | | | keep out | paint
pallet wood | pallet | mark HT; bare wood; painted | | | keep out | paint
pallet wood | pallet | mark HT; bare wood; spill | | | keep out | spill
pallet wood | pallet | mark HT; bare wood; stained or oiled | | | keep out | stain-or-oil
pallet wood | pallet | mark HT; bare wood; pressed blocks | | | keep out | panel-glue
pallet wood | pallet | mark HT; bare wood; nails or wire | | | check first | galvanised-metal
pallet wood | pallet | mark HT; bare wood; plain steel nails | | | ready | fixings
pallet wood | pallet | mark HT; bare wood; green tint | | | keep out | wood-preservative
pallet wood | pallet | mark HT; bare wood; blue dip | | | keep out | wood-preservative
pallet wood | pallet | mark HT; bare wood; flood debris | | | keep out | flood-debris
# ---- decks, fences, outdoor timber: age and region
treated timber | deck | | 1998 | US | keep out | arsenic-preservative
treated timber | deck | | 2003 | US | keep out | arsenic-preservative
treated timber | deck | | 2004 | CA | keep out | arsenic-preservative
treated timber | deck | | 2012 | US | keep out | copper-preservative
treated timber | deck | | | US | keep out | arsenic-preservative
treated timber | deck | | 2002 | UK | keep out | arsenic-preservative
treated timber | deck | | 2007 | EU | keep out | arsenic-preservative
treated timber | deck | | 2015 | EU | keep out | copper-preservative
treated timber | deck | | 2018 | AU | keep out | arsenic-preservative
treated timber | deck | | 2020 | NZ | keep out | arsenic-preservative
treated timber | deck | | 2020 | Atlantis | keep out | arsenic-preservative
sawn offcuts | deck | bare wood | 2016 | US | keep out | copper-preservative
sawn offcuts | deck | bare wood | | | keep out | wood-preservative
hardwood offcuts | deck | bare wood | 1990 | UK | keep out | wood-preservative
sawn offcuts | fence | | 1995 | UK | keep out | arsenic-preservative
sawn offcuts | fence | bare wood | 2019 | UK | keep out | copper-preservative
softwood | fence | bark on | | | keep out | wood-preservative
oak | fence | bark on; old fence post | | | keep out | pole-preservative
softwood | farm | old fence post | | | keep out | pole-preservative
sawn offcuts | own garden | outdoor timber | 1999 | US | keep out | arsenic-preservative
sawn offcuts | own garden | outdoor timber | 2014 | US | keep out | copper-preservative
sawn offcuts | own garden | outdoor timber; bare wood | | EU | keep out | wood-preservative
sawn offcuts | own garden | green tint | | | keep out | wood-preservative
sawn offcuts | workshop | incising slits | | | keep out | wood-preservative
sawn offcuts | building site | end tag | 2020 | US | keep out | wood-preservative
sawn offcuts | workshop | bare wood; green tint | | | keep out | wood-preservative
sawn offcuts | workshop | bare wood; end tag | | | keep out | wood-preservative
sawn offcuts | workshop | blue dip | | | keep out | wood-preservative
sawn offcuts | workshop | fire-retardant stamp | | | keep out | fire-retardant
sawn offcuts | unknown | cable drum | 1985 | | keep out | wood-preservative
sawn offcuts | unknown | cable drum | | | keep out | wood-preservative
sawn offcuts | workshop | cable drum | 2005 | | check first | sawn-unproven
vine prunings | orchard | old fence post | | | keep out | pole-preservative
railway sleeper | railway | | | | keep out | creosote
railway sleeper | unknown | | | | keep out | creosote
railway sleeper | own garden | bare wood | | | keep out | creosote
sawn offcuts | railway | | | | keep out | creosote
sawn offcuts | own garden | tar smell | | | keep out | creosote
utility pole | unknown | | | | keep out | pole-preservative
utility pole | farm | bare wood | 1970 | US | keep out | pole-preservative
oak | railway | | | | keep out | railway-ground
hedge cuttings | railway | | | | keep out | railway-ground
# ---- paint, coatings
painted wood | building site | | 1950 | US | keep out | lead-paint
painted wood | building site | painted | 1950 | US | keep out | lead-paint
sawn offcuts | workshop | painted | 1985 | US | keep out | paint
sawn offcuts | workshop | painted | 1985 | UK | keep out | lead-paint
sawn offcuts | workshop | painted | 2005 | UK | keep out | paint
sawn offcuts | workshop | painted | 2005 | AU | keep out | lead-paint
sawn offcuts | workshop | painted | 2015 | AU | keep out | paint
sawn offcuts | workshop | painted | | | keep out | lead-paint
sawn offcuts | unknown | flaking paint | | | keep out | lead-paint
sawn offcuts | own garden | flaking paint | 2015 | US | keep out | lead-paint
sawn offcuts | workshop | varnished | | | keep out | coating
sawn offcuts | workshop | bare wood; varnished | | | keep out | coating
sawn offcuts | workshop | glossy | | | keep out | coating
sawn offcuts | workshop | stained or oiled | | | keep out | stain-or-oil
varnished wood | furniture | | | | keep out | coating
oak | own trees | painted | | | keep out | paint
twigs | own garden | painted | | | keep out | paint
driftwood | shore | painted | | | keep out | salt
# ---- glue and boards
plywood | workshop | | | | keep out | panel-glue
plywood | unknown | | | | keep out | panel-glue
OSB | building site | | 2022 | EU | keep out | panel-glue
particleboard | furniture | | | | keep out | panel-glue
MDF | workshop | bare wood | | | keep out | panel-glue
hardboard | unknown | | | | keep out | panel-glue
laminated board | furniture | laminate | | | keep out | laminate
particleboard | furniture | laminate | | | keep out | laminate
sawn offcuts | workshop | glue line | | | keep out | panel-glue
sawn offcuts | workshop | bare wood; glue line | | | keep out | panel-glue
sawn offcuts | workshop | finger joint | | | keep out | finger-joint
sawn offcuts | workshop | bare wood; finger joint | | | keep out | finger-joint
furniture wood | furniture | | | | keep out | furniture-finish
furniture wood | furniture | bare wood; solid wood | | | keep out | coating
oak | furniture | | | | keep out | furniture-finish
sawn offcuts | furniture | bare wood; solid wood | | | check first | sawn-unproven
# ---- sawn wood without proof
sawn offcuts | workshop | bare wood | | | ready | sawn-unproven
hardwood offcuts | workshop | bare wood | | | ready | sawn-unproven
sawn offcuts | workshop | | | | check first | sawn-unproven
sawn offcuts | own trees | | | | check first | sawn-unproven
sawn offcuts | own trees | bare wood | | | ready | sawn-unproven
sawn offcuts | tree surgeon | | | | check first | sawn-unproven
oak | furniture | bare wood; solid wood | | | check first | sawn-unproven
cable drum | workshop | bare wood | | | keep out | wood-preservative
cable drum | workshop | bare wood | 2005 | | check first | cable-drum-wood
brands | unknown | | | | check first | unknown-history
brands | own garden | | | | ready | -
sawn offcuts | unknown | | | | check first | unknown-history
sawn offcuts | unknown | bare wood | | | check first | unknown-history
sawn offcuts | building site | | | | check first | building-site
sawn offcuts | building site | bare wood | 2023 | EU | check first | building-site
sawn offcuts | building site | demolition wood | 1960 | UK | keep out | building-site
oak | building site | demolition wood | | | keep out | building-site
sawn offcuts | farm | bare wood | | | check first | sawn-unproven
sawn offcuts | own garden | bare wood | | | check first | sawn-unproven
sawn offcuts | roadside | | | | check first | roadside
sawn offcuts | workshop | bare wood; painted | | | keep out | paint
# ---- on and in it
driftwood | shore | | | | keep out | salt
driftwood | unknown | | | | keep out | salt
oak | shore | | | | keep out | salt
reed | shore | | | | check first | salt
oak | own trees | salt | | | keep out | salt
oak | own trees | spill | | | keep out | spill
oak | own trees | nails or wire | | | check first | galvanised-metal
oak | own trees | galvanised nails | | | check first | galvanised-metal
oak | own trees | galvanised nails; plain steel nails | | | check first | galvanised-metal
oak | own trees | plastic | | | check first | plastic
wheat straw | farm | not sprayed two seasons; twine | | | check first | plastic
sawn offcuts | building site | cement board | 1975 | UK | keep out | asbestos
oak | own trees | flood debris | | | check first | flood-debris
wheat straw | farm | flood debris; not sprayed two seasons | | | keep out | flood-debris
sawn offcuts | workshop | bare wood; flood debris | | | keep out | flood-debris
oak | unknown | fire debris | | | keep out | fire-debris
sawn offcuts | building site | fire debris | | | keep out | fire-debris
brands | own garden | dirty piece | | | keep out | dirty-batch
oak | own trees | dirty piece | | | keep out | dirty-batch
# ---- paper
cardboard | own garden | | | | ready | -
cardboard | own garden | printed | | | check first | coated-paper
cardboard | own garden | glossy | | | keep out | coated-paper
glossy paper | own garden | | | | keep out | coated-paper
cardboard | own garden | plastic | | | check first | plastic
waste paper | own garden | | | | check first | mixed-paper
# ---- plants, spray, place
wheat straw | farm | | | | check first | persistent-herbicide
wheat straw | farm | spray history unknown | | | check first | persistent-herbicide
wheat straw | farm | sprayed | | | keep out | known-spray
wheat straw | farm | sprayed; not sprayed two seasons | | | keep out | known-spray
wheat straw | unknown | | | | check first | unknown-history
wheat straw | unknown | not sprayed two seasons | | | check first | unknown-history
hay | farm | sprayed | | | keep out | known-spray
hay | farm | not sprayed two seasons; mould | | | check first | mould
rice straw | farm | | | | check first | persistent-herbicide
hay | own garden | | | | check first | persistent-herbicide
hay | own garden | no weedkiller | | | ready | persistent-herbicide
hay | farm | no weedkiller | | | check first | persistent-herbicide
hay | farm | organic | | | check first | persistent-herbicide
leaves | own garden | street sweepings | | | keep out | street-sweepings
leaves | own garden | pet waste | | | keep out | pet-waste
leaves | roadside | | | | check first | roadside
hedge cuttings | roadside | | | | check first | roadside
oak | roadside | | | | check first | roadside
apple | orchard | | | | check first | old-orchard
apple | orchard | no old orchard | | | check first | old-orchard
apple | orchard | no old orchard; not sprayed two seasons; soil on it | | | check first | \
    old-orchard
apple | orchard | sprayed | | | check first | known-spray
twigs | orchard | sprayed | | | keep out | known-spray
twigs | own garden | poison ivy | | | keep out | poisonous-plant
twigs | own garden | oleander | | | keep out | poisonous-plant
garden stalks | own garden | irritant sap | | | keep out | poisonous-plant
oak | own trees | poison ivy | | | keep out | poisonous-plant
twigs | own garden | toxic shrub | | | check first | toxic-shrub
twigs | own garden | toxic shrub; dry wood without leaves | | | ready | toxic-shrub
twigs | own garden | box | | | ready | toxic-shrub
yew | own garden | | | | check first | toxic-shrub
laburnum | own trees | | | | check first | toxic-shrub
rhododendron | own garden | | | | check first | toxic-shrub
oak | own trees | moth nest | | | keep out | irritant-hairs
ash wood | own trees | diseased | | | ready | quarantine-pest
ash wood | own trees | quarantine area | | | check first | quarantine-pest
# ---- clean can fail too
willow | own trees | | | | check first | background-over-limit
poplar | own trees | | | | check first | background-over-limit
willow leaves | own garden | | | | check first | background-over-limit
bark | own trees | | | | check first | background-over-limit
bark | tree surgeon | | | | check first | background-over-limit
horse manure | farm | not sprayed two seasons; no feed additives | | | check first | \
    background-over-limit
cattle manure | farm | not sprayed two seasons; no feed additives | | | check first | \
    background-over-limit
poultry manure | farm | not sprayed two seasons | | | check first | feed-metals
poultry manure | farm | not sprayed two seasons; feed additives | | | check first | load-over-limit
horse manure | farm | not sprayed two seasons | | | check first | background-over-limit
sawdust | workshop | | | | check first | workshop-dust
pine | workshop | | | | check first | sawn-unproven
horse manure | farm | sprayed | | | keep out | known-spray
horse manure | unknown | | | | check first | unknown-history
rice husk | farm | | | | check first | high-ash-char
willow | roadside | | | | check first | roadside
willow | railway | | | | keep out | railway-ground
hop bines | farm | | | | check first | background-over-limit
"""


@dataclass(frozen=True)
class Row:
    """One line of the matrix."""

    material: str
    origin: str
    signs: tuple[str, ...]
    year: int | None
    region: str | None
    verdict: Verdict
    code: str

    def lot(self, **more: object) -> Lot:
        fields = {
            "material": self.material,
            "origin": self.origin,
            "signs": self.signs,
            "mass": "10 kg",
            "moisture": "11 % wet",
            "year": self.year,
            "region": self.region,
        }
        return Lot.model_validate({**fields, **more})

    def __str__(self) -> str:
        return " | ".join(
            map(
                str,
                (
                    self.material,
                    self.origin,
                    "; ".join(self.signs),
                    self.year or "",
                    self.region or "",
                    self.verdict,
                ),
            )
        )


def _row(line: str) -> Row:
    material, origin, signs, year, region, verdict, code = (
        part.strip() for part in line.split("|")
    )
    return Row(
        material,
        origin,
        tuple(s.strip() for s in signs.split(";") if s.strip()),
        int(year) if year else None,
        region or None,
        Verdict(verdict),
        code,
    )


MATRIX = [_row(line) for line in ROWS.strip().splitlines() if not line.startswith("#")]
DANGEROUS = [row for row in MATRIX if row.verdict >= Verdict.CHECK_FIRST]
OUT = [row for row in MATRIX if row.verdict is Verdict.KEEP_OUT]
CLEAN = Lot(
    material="oak", mass="800 kg", moisture="11 % wet", origin="own trees", name="clean oak"
)


def judged(lot: Lot, found: Tables | None = None) -> LotAppraisal:
    return appraise(Heap(lots=[lot]), tables=found or tables()).lots[0]


def danger_signs() -> list[str]:
    """Signs that some rule takes for a danger: those that raise at least `check first` for some
    lot.
    """
    return sorted(
        {sign for row in OUT + DANGEROUS for sign in row.signs}
        - {
            "bare wood",
            "mark HT",
            "mark DH",
            "mark DB",
            "bark on",
            "not sprayed two seasons",
            "no feed additives",
            "no old orchard",
            "plain steel nails",
            "solid wood",
            "heat treated",
            "organic",
            "no weedkiller",
            "dry wood without leaves",
            "box",
        }
    )


def test_the_matrix_is_wide_enough() -> None:
    assert len(MATRIX) >= 150
    assert len(set(map(str, MATRIX))) == len(MATRIX)
    assert {row.verdict for row in MATRIX} == {Verdict.READY, Verdict.CHECK_FIRST, Verdict.KEEP_OUT}
    assert len({row.origin for row in MATRIX}) == 16


def lowers(row: Contaminant, carried: bool) -> bool:
    """Whether what a lot says or is can raise it so that it is not ready."""
    permits = [row.permits] if carried else []
    permits += [
        rule.permits or row.permits
        for rule in row.raised_by
        if not (rule.vessel or rule.ground or rule.lighting)
    ]
    return any(Verdict(word) > Verdict.READY for word in permits)


def test_every_suspicion_of_a_lot_that_lowers_a_verdict_has_a_row() -> None:
    """Those that the words of a burn raise stand in the matrix of fires."""
    materials, suspicions = tables().rows["materials"], tables().rows["contaminants"]
    carried = {
        tables().find("contaminants", name)
        for row in materials.values()
        if isinstance(row, Material)
        for name in row.carries
    }
    raised = {
        row_id.partition(":")[2]
        for row_id, row in suspicions.items()
        if isinstance(row, Contaminant) and lowers(row, row_id in carried)
    }
    assert len(raised) > 40
    assert not raised - {row.code for row in MATRIX}


@pytest.mark.parametrize("row", MATRIX, ids=str)
def test_each_lot_gets_its_verdict_and_reason(row: Row) -> None:
    result = judged(row.lot())
    told = [(f.code, str(f.permits)) for f in result.findings]
    assert result.verdict is row.verdict, told
    if row.code == "-":
        assert not [f for f in result.findings if f.permits > Verdict.READY]
    else:
        reasons = [f for f in result.findings if f.code == row.code]
        assert reasons, told
        # the reason that is named is one of those that decided
        assert max(f.permits for f in reasons) is row.verdict, told


@pytest.mark.parametrize("tries", [1, pytest.param(10, marks=pytest.mark.deep)])
@pytest.mark.parametrize("row", DANGEROUS, ids=str)
def test_no_order_spelling_or_company_makes_it_ready(row: Row, tries: int) -> None:
    draw = random.Random(str(row))
    for _ in range(tries):
        signs = list(row.signs)
        draw.shuffle(signs)
        spelt = [
            draw.choice([s.upper(), s.title(), s.replace(" ", "-"), f" {s}  ", s.lower()])
            for s in signs
        ]
        lot = row.lot(
            signs=tuple(spelt),
            material=row.material.upper(),
            origin=row.origin.replace(" ", "-").title(),
            mass=draw.choice(["5 g", "2 oz wt", "3 t"]),
            name="it",
        )
        result = appraise(Heap(lots=draw.sample([CLEAN, lot], 2)), tables=tables())
        found = next(each for each in result.lots if each.name == "it")
        assert found.verdict is row.verdict
        assert result.verdict_mixed >= row.verdict
        assert (
            next(each for each in result.lots if each.name == "clean oak").verdict is Verdict.READY
        )


NOTHING_STAYS: dict[str, Any] = {
    "name": "cadmium",
    "conservative": {"value": "0.001", "known": "judgement", "note": "no"},
    "central": [
        {
            "kept": {
                "value": "0.1",
                "low": "0.05",
                "high": "0.2",
                "known": "judgement",
                "note": "no",
            }
        }
    ],
}
PLUGIN_TRIES: dict[str, dict[str, Any]] = {
    "a clearing row for another's suspicion": {
        "clears": {
            "mine": {
                "hypothesis": "wood-preservative",
                "when": {"signs": ["green-tint"]},
                "reason": "I like it.",
                "known": "judgement",
            }
        }
    },
    "a milder gate": {"amend": {"contaminants": {"reference:paint": {"permits": "ready"}}}},
    "a milder limit": {
        "amend": {
            "limits": {
                "reference:ebc-agro": {
                    "elements": {"Cd": {"value": "900 mg/kg", "known": "judgement", "note": "no"}}
                }
            }
        }
    },
    "nothing stays": {
        "amend": {"methods": {"reference:kept-in-char": {"elements": {"Cd": NOTHING_STAYS}}}}
    },
    "no background": {
        "amend": {
            "materials": {
                "reference:willow": {
                    "elements": {
                        "Cd": {
                            "value": "0.001 mg/kg",
                            "low": "0.0005 mg/kg",
                            "high": "0.002 mg/kg",
                            "known": "judgement",
                            "note": "no",
                        }
                    }
                }
            }
        }
    },
    "no gathering": {
        "amend": {"materials": {"reference:willow": {"accumulates": {"remove": ["Cd", "Zn"]}}}}
    },
    "another fate by default": {
        "amend": {"methods": {"reference:defaults": {"use": {"fate": "mine"}}}}
    },
}


@pytest.mark.parametrize("what", PLUGIN_TRIES, ids=str)
def test_a_plugin_that_does_not_declare_is_refused(what: str) -> None:
    with pytest.raises(FeedstockError) as why:
        load_tables(
            own_set("plugin", **PLUGIN_TRIES[what]),
            plugins=False,
        )
    assert {p.code for p in why.value.problems} & {"undeclared-gate"}


PLUGIN: dict[str, Any] = {
    "set": {"name": "plugin", "version": "1", "schema": "1"},
    "limits": {
        "mine": {
            "title": "My own limits",
            "default": "true",
            "known": "judgement",
            "elements": {
                e: {"value": "900000 mg/kg", "known": "judgement", "note": "no"}
                for e in ("As", "Cd", "Cr", "Cu", "Hg", "Ni", "Pb", "Zn")
            },
        }
    },
    "methods": {
        "mine": {
            "kind": "fate",
            "known": "judgement",
            "elements": {"Cd": NOTHING_STAYS},
        },
        "other-defaults": {
            "kind": "defaults",
            "burner": "pit",
            "ash_warning": {"value": "3 %", "known": "judgement", "note": "x"},
            "high_over": {"value": "10 %", "known": "judgement", "note": "x"},
            "use": {},
        },
    },
    "signs": {
        "all-good": {"names": {"en": ["all good"]}, "meaning": "I say so.", "known": "judgement"}
    },
    "contaminants": {
        "mine": {
            "reason": "Nothing.",
            "action": "Nothing.",
            "permits": "ready",
            "known": "judgement",
            "raised_by": [{"signs": ["all-good"]}],
        }
    },
    "clears": {
        "mine": {
            "hypothesis": "mine",
            "when": {"signs": ["all-good"]},
            "reason": "I say so.",
            "known": "judgement",
        }
    },
}


@pytest.fixture(scope="module")
def with_plugin() -> Tables:
    use = {**tables().defaults[1].use, "fate": "plugin:mine"}
    methods = {
        **PLUGIN["methods"],
        "other-defaults": dict(PLUGIN["methods"]["other-defaults"], use=use),
    }
    return load_tables({**PLUGIN, "methods": methods}, plugins=False)


@pytest.mark.parametrize("row", DANGEROUS, ids=str)
def test_a_plugin_that_only_adds_makes_nothing_ready(row: Row, with_plugin: Tables) -> None:
    assert judged(row.lot(signs=(*row.signs, "all good")), with_plugin).verdict is row.verdict


def test_a_declared_loosening_is_told_on_the_result() -> None:
    given = {
        "set": {"name": "plugin", "version": "1", "schema": "1"},
        "clears": {
            "mine": {
                "hypothesis": "paint",
                "when": {"signs": ["painted"]},
                "reason": "Lime wash only.",
                "known": "judgement",
                "loosens": {"reason": "lime wash on our walls"},
            }
        },
    }
    result = appraise(
        Heap(
            lots=[
                Lot(
                    material="oak",
                    mass="3 kg",
                    origin="own trees",
                    moisture="12 % wet",
                    signs=["painted"],
                    year=2020,
                )
            ]
        ),
        tables=load_tables(given, plugins=False),
    )
    assert any(f.code == "gate-loosened" and "lime wash" in f.reason for f in result.findings)


@examples(0.4)
@given(row=st.sampled_from(MATRIX), sign=st.sampled_from(danger_signs()))
def test_a_sign_of_danger_never_improves_a_verdict(row: Row, sign: str) -> None:
    assert (
        judged(row.lot(signs=(*row.signs, sign) if sign not in row.signs else row.signs)).verdict
        >= judged(row.lot()).verdict
    )


@examples(0.2)
@given(row=st.sampled_from(OUT), clean=st.floats(1, 50_000), mass=st.floats(0.001, 20))
def test_clean_mass_never_turns_keep_out_into_anything_else(
    row: Row, clean: float, mass: float
) -> None:
    lot = row.lot(mass=f"{mass!r} kg", name="it")
    oak = Lot(
        material="oak",
        mass=f"{clean!r} kg",
        moisture="11 % wet",
        origin="own trees",
        name="oak lot",
    )
    result: Appraisal = appraise(Heap(lots=[lot, oak]), tables=tables())
    assert result.lots[0].verdict is Verdict.KEEP_OUT
    assert result.verdict is Verdict.KEEP_OUT
    assert result.verdict_mixed is Verdict.KEEP_OUT
    assert result.mixed is not None
    assert result.mixed.verdict is Verdict.KEEP_OUT
    assert result.lots[0] == judged(lot)


@examples(0.2)
@given(row=st.sampled_from(MATRIX), year=st.integers(1900, 2024))
def test_an_unknown_year_or_region_is_never_better(row: Row, year: int) -> None:
    for region in ("US", "CA", "UK", "EU", "AU", "NZ"):
        assert (
            judged(row.lot(year=None, region=None)).verdict
            >= judged(row.lot(year=year, region=region)).verdict
        )


@examples(0.2)
@given(row=st.sampled_from(MATRIX), more=st.floats(0.01, 100))
def test_the_mass_of_a_lot_changes_no_verdict(row: Row, more: float) -> None:
    assert judged(row.lot(mass=f"{10 * more!r} kg")).verdict is row.verdict
