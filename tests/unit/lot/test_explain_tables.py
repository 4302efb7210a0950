"""A result holds no tables: it finds those that are still loaded, or is given them."""

from __future__ import annotations

import gc
import pickle
import sys
from typing import Any

import pytest

from builders import own_set, tables
from feedstock import Burn, Heap, Lot, TableError, appraise, load_tables
from feedstock.model.appraisal import Appraisal
from feedstock.tables.register import loaded_tables
from feedstock.tables.tables import Tables

pytestmark = pytest.mark.regression

WOOD = Lot(material="trial wood", mass="20 kg", moisture="18 % dry", origin="own trees")
HEAP = Heap(lots=[WOOD])
BURN = Burn(burner="cone pit", width="1 m", depth="0.5 m")


def own(version: str, ash: str = "1.3 %") -> Tables:
    """Tables that nothing else loads: each version has a digest of its own."""
    cell = {"value": ash, "low": "0.5 %", "high": "4 %", "known": "judgement", "note": "made up"}
    rows = {"trial-wood": {"names": {"en": ["trial wood"]}, "like": "oak", "ash": cell}}
    given = own_set(materials=rows)
    given["set"]["version"] = version
    return load_tables(given, plugins=False)


def gone(version: str) -> str:
    """The JSON of a result whose tables are no longer in the process."""
    used = own(version)
    text, digest = appraise(HEAP, None, used).model_dump_json(), used.digest
    forget(used)
    del used
    gc.collect()
    assert loaded_tables(digest) is None
    return text


def forget(used: Tables) -> None:
    """Drop what the process keeps of tables."""
    from functools import _lru_cache_wrapper

    from feedstock.lot import build

    build._KEPT.clear()
    load_tables.refresh()
    for name, module in list(sys.modules.items()):
        if name.startswith("feedstock"):
            for each in list(vars(module).values()):
                if isinstance(each, _lru_cache_wrapper):
                    each.cache_clear()
    from feedstock.uncertainty.propagate import forget_kept

    forget_kept()


def test_nothing_hangs_on_a_result() -> None:
    result = appraise(HEAP, BURN, own("1"))
    assert set(result.__dict__) == set(type(result).model_fields)
    assert len(pickle.dumps(result)) <= 1.5 * len(result.model_dump_json())


@pytest.mark.parametrize("figure", ["char_mass", "lots[0].moisture", "burn.quench_water"])
def test_explained_while_its_tables_are_loaded(figure: str) -> None:
    used = own("2")
    result = appraise(HEAP, BURN, used)
    again = Appraisal.model_validate_json(result.model_dump_json())
    copied: Any = pickle.loads(pickle.dumps(result))
    assert again == copied == result
    told = result.explain(figure)
    assert again.explain(figure) == copied.explain(figure) == told
    assert result.explain(figure, used) == told


def test_without_them_they_are_to_be_given() -> None:
    again = Appraisal.model_validate_json(gone("3"))
    with pytest.raises(TableError) as why:
        again.explain("char_mass")
    (problem,) = why.value.problems
    assert problem.code == "other-tables"
    assert "mine 3" in problem.expected
    told = again.explain("char_mass", own("3"))
    assert told.mid == pytest.approx(again.char_mass.mid_value)


def test_other_tables_than_its_own_are_refused() -> None:
    used = own("4")
    result = appraise(HEAP, None, used)
    with pytest.raises(TableError):
        result.explain("char_mass", tables())
    with pytest.raises(TableError):
        result.explain("char_mass", own("4", ash="1.4 %"))


def test_the_methods_that_were_chosen_are_taken_again() -> None:
    used = tables().using(yield_curve="woolf-2014")
    heap = Heap(lots=[Lot(material="oak", mass="20 kg", moisture="18 % dry", origin="own trees")])
    result = appraise(heap, Burn(burner="retort"), used)
    other = appraise(heap, Burn(burner="retort"), tables())
    assert result.char_mass.mid_value != other.char_mass.mid_value
    for given in (None, used, tables()):
        assert result.explain("char_mass", given).mid == pytest.approx(result.char_mass.mid_value)


def test_the_whole_chain_says_where_ends_come_from() -> None:
    """The field yield's were read, beech density made by a rule, its ash judged."""
    heap = Heap(lots=[Lot(material="beech", volume="60 L", packing="stacked", origin="own trees")])
    result = appraise(heap, Burn(burner="cone pit", width="1 m", depth="0.5 m"), tables())
    told = " ".join(result.explain("char_mass").full().split())
    for field, ends in (
        ("field yield (beech)", "ends read"),
        ("basic density (beech)", "ends by the rule scatter-"),
        ("ash (beech)", "ends judged"),
    ):
        _, _, rest = told.partition(f" {field}:")
        assert ends in rest.partition(" - ")[0], field
    # what has no interval has no ends
    floor = told.partition(" curve floor (beech):")[2].partition(" - ")[0]
    assert floor
    assert "ends" not in floor
