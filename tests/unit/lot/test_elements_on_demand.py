"""Elements are bound where something can depend on them; the rest is explained on demand."""

from __future__ import annotations

import math
from typing import Any

import pytest

from builders import own_set, tables
from feedstock import Heap, Lot, appraise, load_tables
from feedstock.assessment.hypotheses import suspected
from feedstock.lot import elements
from feedstock.lot.build import Setting, build_lot_model
from feedstock.tables.limits import limits_in_use
from feedstock.tables.rows.methods.amount import Instruments
from feedstock.uncertainty.keys import stated_heap_key, stated_key
from feedstock.uncertainty.propagate import propagate
from feedstock.uncertainty.sums import told_apart

OAK = Lot(material="oak", mass="20 kg", moisture="18 % dry", origin="own trees", name="oak")
WILLOW = Lot(material="willow", mass="20 kg", moisture="18 % dry", origin="own trees", name="w")
PAINTED = Lot(
    material="sawn offcuts",
    mass="20 kg",
    moisture="14 % dry",
    origin="building site",
    signs=["flaking paint"],
    name="painted",
)


def appraised(*lots: Lot, **more: Any) -> Any:
    return appraise(Heap(lots=lots), **{"tables": tables(), **more})


@pytest.mark.regression
def test_a_clean_lot_pays_for_no_elements(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: Any) -> None:
        raise AssertionError("an element was bound")

    monkeypatch.setattr("feedstock.pipeline.bind_elements", never)
    found = appraised(OAK)
    assert found.lots[0].elements == ()
    assert found.mixed is not None and found.mixed.elements == ()


@pytest.mark.regression
def test_its_elements_are_explained_all_the_same() -> None:
    found = appraised(OAK)
    cell = tables().material("reference:oak").elements["As"]
    feed = found.explain("lots[0].elements.As.feed")
    assert (feed.low, feed.mid, feed.high) == pytest.approx(
        tuple(1e6 * value for value in (cell.low, cell.mid, cell.high)), rel=1e-6
    )
    assert found.explain("lots.oak.elements.As").mid > feed.mid
    assert found.explain("elements.As").mid == pytest.approx(
        found.explain("lots.oak.elements.As").mid
    )


@pytest.mark.regression
def test_a_gatherer_is_judged_for_what_it_gathers() -> None:
    row = tables().material("reference:willow")
    (lot,) = appraised(WILLOW).lots
    assert {element.element for element in lot.elements} == set(row.accumulates)
    assert all(element.decides for element in lot.elements)


@pytest.mark.regression
def test_what_a_suspicion_brings_is_mixed_into_the_whole_heap() -> None:
    found = appraised(OAK, PAINTED)
    oak, painted = found.lots
    assert oak.elements == ()
    lead = next(element for element in painted.elements if element.element == "Pb")
    assert lead.brought_by
    assert found.mixed is not None
    mixed = next(element for element in found.mixed.elements if element.element == "Pb")
    # the oak's own lead and its char are in it: between the two alone
    clean = found.explain("lots.oak.elements.Pb").mid
    assert clean < mixed.screening.mid_value < lead.screening.mid_value


@pytest.mark.regression
def test_a_background_over_the_limit_is_told() -> None:
    """An own limit for copper just below and just above the middle of oak char by nature."""
    middle = appraised(OAK).explain("lots.oak.elements.Cu").mid

    def told(limit: float) -> list[str]:
        strict = own_set(
            limits={
                "own": {
                    "names": {"en": ["own"]},
                    "title": "limits made up for a test",
                    "scope": "char",
                    "known": "judgement",
                    "elements": {
                        "Cu": {
                            "value": f"{limit:.6f} mg/kg",
                            "known": "judgement",
                            "note": "made up",
                        }
                    },
                }
            }
        )
        used = load_tables(strict, plugins=False)
        (lot,) = appraised(OAK, tables=used, limits="own").lots
        return [element.element for element in lot.elements]

    assert told(0.999 * middle) == ["Cu"]
    assert told(1.001 * middle) == []


@pytest.mark.property
@pytest.mark.parametrize("lot", [OAK, WILLOW, PAINTED], ids=lambda lot: lot.material)
def test_the_bound_ones_are_as_if_all_were_bound(lot: Lot) -> None:
    found = appraised(lot)
    limits = limits_in_use(tables(), None)
    assert limits is not None
    for element in found.lots[0].elements:
        explained = found.explain(f"lots[0].elements.{element.element}")
        assert (explained.low, explained.mid, explained.high) == pytest.approx(
            (
                element.screening.low_value,
                element.screening.mid_value,
                element.screening.high_value,
            ),
            rel=1e-6,
        )
    rest = set(limits.of) - {element.element for element in found.lots[0].elements}
    for symbol in rest & set(tables().material(found.lots[0].row).elements):
        middle = found.explain(f"lots[0].elements.{symbol}").mid / 1e6
        assert middle <= limits.of[symbol].value
    assert elements.outputs_of("As")[0] == "screening_As"


@pytest.mark.worked
def test_what_a_person_guesses_of_every_lot_cancels_in_the_mixture() -> None:
    """Two guessed masses, each by the same factor of 1.2 up or down. The person's part moves both
    alike and the mixed share not at all. Of the lot's own part, the root of what is not shared,
    the lead of the painted lot goes up in full and the char by that lot's part f of it: the log of
    the share moves by (1 - f) sqrt(1 - shared) log 1.2, here to first order in that.
    """
    found, lots = tables(), []
    guess = "10 to 14.4 kg, likely 12 kg"
    for each in (PAINTED, OAK):
        lots.append(each.model_copy(update={"mass": Lot(material="oak", mass=guess).mass}))
    setting = Setting(found, found.find("burners", "pit"), None)
    bound = []
    for number, each in enumerate(lots):
        model = build_lot_model(each, setting, f"lots[{number}]", mark=str(each.name))
        one = elements.bind_elements(
            model, suspected(model.evidence, found), limits_in_use(found, None), found
        )
        assert one is not None
        bound.append(elements.run_elements(one, "Pb"))
    painted, oak = (one.figures["char_mass"].mid for one in bound)
    shared = found.method("instruments", Instruments)[1].stated_shared.mid
    step = oak / (painted + oak) * math.sqrt(1 - shared) * math.log(1.2)
    # the oak has some lead too: its part of the lead follows its own mass
    lead = [one.figures["mass_Pb"].mid for one in bound]
    step -= lead[1] / sum(lead) * math.sqrt(1 - shared) * math.log(1.2)
    chain, inputs = elements.mixed_chain([(str(n), one) for n, one in enumerate(bound)], "Pb")
    merged = told_apart(propagate(chain, inputs, ["mixed"])["mixed"])
    for figure in (elements.mixed_figure(bound, "Pb"), merged):
        by_person = figure.sensitivities.get(stated_heap_key(), (0.0, 0.0))
        assert by_person == pytest.approx((0.0, 0.0), abs=1e-9 * figure.mid)
        own = figure.sensitivities[stated_key("painted:mass")]
        assert [math.log(1 + change / figure.mid) for change in own] == pytest.approx(
            [-step, step], rel=0.05
        )
    assert elements.mixed_figure(bound, "Pb").ends == pytest.approx(merged.ends)


@pytest.mark.property
def test_a_mixture_of_guessed_lots_is_explained_as_it_is_told() -> None:
    lots = [
        each.model_copy(update={"mass": Lot(material="oak", mass="15 to 30 kg, likely 20 kg").mass})
        for each in (PAINTED, OAK, WILLOW)
    ]
    found = appraised(*lots)
    lead = next(each for each in found.mixed.elements if each.element == "Pb")
    explained = found.explain("elements.Pb")
    assert (explained.low, explained.mid, explained.high) == pytest.approx(
        (lead.screening.low_value, lead.screening.mid_value, lead.screening.high_value)
    )
    assert sum(each.share for each in explained.inputs) == pytest.approx(1.0)
