"""The one measurement that would narrow the char of a heap most."""

from __future__ import annotations

import pytest

from builders import EXAMPLES, heap, lot, tables
from feedstock import Appraisal, Heap, Job, Lot, appraise
from feedstock.lot.advice import MEASUREMENTS
from feedstock.lot.build import Setting, build_lot_model

pytestmark = pytest.mark.worked


def advised(*lots: Lot) -> tuple[str, str]:
    """What is to be measured, and of which lot."""
    advice = appraise(heap(*lots), tables=tables()).advice
    assert advice is not None
    return advice.code, str(advice.values["lot"])


def test_a_heaped_lot_is_to_be_weighed() -> None:
    """How much wood stands in a pile of brush is known to a factor of three, and far better once it
    was weighed.
    """
    brush = Lot(
        material="hardwood",
        name="brush pile",
        stack={"shape": "half ellipsoid", "width": "2 m", "length": "3 m", "height": "1 m"},
        packing="brush",
        moisture="15 % wet",
        origin="own trees",
    )
    assert advised(brush, lot(name="weighed")) == ("advice.weigh", "brush pile")


def test_a_guess_of_the_mass_is_to_be_weighed() -> None:
    assert advised(lot(mass="20 to 90 kg", name="guessed")) == ("advice.weigh", "guessed")


def test_moisture_that_nobody_gave_is_to_be_measured() -> None:
    wet = Lot(material="oak", name="unmeasured", mass="40 kg", origin="own trees")
    assert advised(wet) == ("advice.moisture", "unmeasured")


def test_where_all_is_measured_the_fire_itself_is_to_be_recorded() -> None:
    measured = lot(
        moisture="14.5 to 15.5 % wet",
        measured={"basic_density": "560 to 580 kg/m^3"},
        name="measured",
    )
    assert advised(measured) == ("advice.record", "")


def test_every_named_input_enters_some_chain() -> None:
    """A name that no chain has any more would never be advised."""
    found = set[str]()
    setting = Setting(tables(), "reference:cone-pit", None)
    closed = Setting(tables(), "reference:retort", None)
    jobs = [Job.read(path) for path in sorted(EXAMPLES.glob("*.*ml"))]
    made = Heap(
        lots=(
            lot("leaves", name="leaves"),
            Lot(
                material="oak",
                name="boards",
                pieces={"count": 3, "width": "90 mm", "thickness": "30 mm", "length": "1 m"},
                origin="own trees",
            ),
            Lot(
                material="oak",
                name="tapered",
                pieces={"count": 3, "diameters": ["90 mm", "30 mm"], "length": "1 m"},
                moisture={"air": {"temperature": "15 degC", "relative_humidity": "70 %"}},
                origin="own trees",
            ),
        )
    )
    for given in (*(job.heap for job in jobs), made):
        for each in given.lots:
            for where in (setting, closed):
                model = build_lot_model(each, where, "lots[0]", each.name or "", "")
                found |= {entry.name for entry in model.inputs}
    assert set(MEASUREMENTS) - found == set()


def test_an_explanation_advises_on_its_figure() -> None:
    result: Appraisal = appraise(heap(lot(mass="20 to 90 kg", name="guessed")), tables=tables())
    advice = result.explain("char_mass", tables()).advice
    assert advice is not None
    assert advice.code == "advice.weigh"
