"""Where the cells of the reference come from: ends of intervals, their rules, and locators."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest

from builders import TABLE_FOLDER, tables, yaml_data
from feedstock.quantities.cell import BY_RULE, Cell
from feedstock.tables.loading.references import cells_of
from feedstock.tables.rows.methods.interval import IntervalRule


def cells() -> list[tuple[str, Cell]]:
    """Every cell of every row, with a name that says where it is; inherited ones too."""
    return [
        (f"{kind} {full} {'.'.join(map(str, path))}", cell)
        for kind, rows in tables().rows.items()
        for full, row in rows.items()
        for path, cell in cells_of(row)
    ]


def raw_cells(value: Any) -> Iterator[dict[str, Any]]:
    """Every cell of a file as it is written."""
    if isinstance(value, dict) and not isinstance(value.get("value"), (dict, list, type(None))):
        yield value
    elif isinstance(value, (dict, list)):
        for inner in value.values() if isinstance(value, dict) else value:
            yield from raw_cells(inner)


@pytest.mark.property
def test_every_interval_of_ours_says_where_its_ends_come_from() -> None:
    """What is left out counts as a judgement, and in the reference nothing is left out."""
    files = sorted(TABLE_FOLDER.rglob("*.yaml"))
    every = [(path.name, cell) for path in files for cell in raw_cells(yaml_data(path))]
    assert len(every) > 2000
    assert [each for each in every if "low" in each[1] and "ends" not in each[1]] == []


@pytest.mark.property
def test_ends_that_were_read_or_derived_have_a_source() -> None:
    wrong = [
        where for where, cell in cells() if cell.ends in ("read", "derived") and not cell.source
    ]
    assert wrong == []


@pytest.mark.worked
def test_the_rules_for_ends_follow_from_their_derivations() -> None:
    """Standard deviations of the logarithm as the rows give them: 0.0879 within a species, 0.11 of
    bark, 0.215 of the share of bark, 0.165 of green moisture. Between species: even over a width of
    0.2, so 1.645 x sqrt(0.0879^2 + 0.2^2/12) beyond the middle, of which 0.1 lies within.
    """
    beyond = 1.645 * math.sqrt(0.0879**2 + 0.2**2 / 12) - 0.1
    expected = {
        "scatter-between-trees": 1.645 * 0.0879,
        "scatter-within-genus": beyond,
        "scatter-of-bark": 1.645 * 0.11,
        "age-of-bark": 1.645 * 0.215,
        "season-and-sapwood": 1.645 * 0.165,
    }
    rules = {
        full.partition(":")[2]: row
        for full, row in tables().rows["methods"].items()
        if isinstance(row, IntervalRule)
    }
    assert set(rules) == set(expected) | set(SCATTERS)
    for name, half in expected.items():
        assert rules[name].below.mid == pytest.approx(math.exp(-half), abs=6e-4)
        assert rules[name].above.mid == pytest.approx(math.exp(half), abs=1e-3)


# rules whose scatter is that of the tables themselves: the fields that each serves, and the
# standard deviation of the logarithm that its row states
SCATTERS = {
    "scatter-of-elements": (("carbon", "hydrogen", "oxygen"), 0.058),
    "scatter-of-nitrogen": (("nitrogen",), 0.60),
    "scatter-of-structure": (("lignin", "cellulose"), 0.152),
    "scatter-of-fixed-carbon": (("fixed_carbon",), 0.136),
    "scatter-of-heating-value": (("heating_value",), 0.071),
}


def within_classes(field: str) -> tuple[float, int]:
    """Sum of squares of the logarithm about the means of the classes, and degrees of freedom, of
    the rows that give a middle of their own which was read or derived.
    """
    # a cell that several rows share counts once
    middles: dict[str, dict[tuple[object, ...], float]] = {}
    for full in tables().rows["materials"]:
        row = tables().material(full)
        cell = getattr(row, field)
        if cell is not None and cell.known in ("read", "derived"):
            same = (cell.text, cell.source, cell.at)
            middles.setdefault(row.class_ or "", {})[same] = math.log(cell.mid)
    groups = [list(group.values()) for group in middles.values() if len(group) > 1]
    squares = sum((each - sum(group) / len(group)) ** 2 for group in groups for each in group)
    return squares, sum(len(group) - 1 for group in groups)


@pytest.mark.worked
@pytest.mark.parametrize("name", SCATTERS)
def test_the_rules_for_composition_follow_from_the_rows_of_the_tables(name: str) -> None:
    fields, stated = SCATTERS[name]
    squares, freedom = map(sum, zip(*map(within_classes, fields), strict=True))
    found = math.sqrt(squares / freedom)
    print(f"{name}: {found:.3f} with {freedom} degrees of freedom")
    assert freedom >= 15
    # a row more or less moves it a little; more than a tenth wants a new derivation
    assert found == pytest.approx(stated, rel=0.1)
    rule = tables().rows["methods"][f"reference:{name}"]
    assert isinstance(rule, IntervalRule)
    assert rule.below.mid == pytest.approx(math.exp(-1.645 * stated), abs=6e-4)
    assert rule.above.mid == pytest.approx(math.exp(1.645 * stated), abs=1e-3)


@pytest.mark.property
def test_every_rule_for_ends_serves_many_cells() -> None:
    used = Counter(cell.ends for _, cell in cells() if cell.ends.startswith(BY_RULE))
    assert min(used.values()) >= 20
    named = {
        full.partition(":")[2]
        for full, row in tables().rows["methods"].items()
        if isinstance(row, IntervalRule)
    }
    assert {word.removeprefix(BY_RULE) for word in used} == named


# what in a locator is a place and no value: numbers of tables, pages, equations, records, years,
# use categories, types, formulas, counts of samples
_PLACE = re.compile(
    r"""(?ix)
    \b(?:tables?|pages?|p\.|equations?|eq\.|chapters?|ch\.|records?|no|articles?|sections?|annex
       |anlage|cas|class|version|types?|category|appendix|code)
      \s*[A-Z]{0,3}[-.]?\d[\dA-Za-z.,-]*(?:\s*\(\d+\))?(?:(?:\s*(?:,|and|to)\s*)\d[\d.-]*)*
    | \b(?:n|of\ up\ to|median\ of|average\ of|mean\ of)\s+\d+
    | \b\d+\s+(?:compositions?|samples?|records?|measurements|rows|runs|Pa\.)
    | \b(?:19|20)\d\d\b | \b[A-Z]+\d+[A-Z]*\d*\b | \bat\s\d+\s(?:mm|degC)\b | \bfrom\ \d+
    """
)
_NUMBER = re.compile(r"(?<![\w.])[-+]?\d[\d,]*(?:\.\d+)?")


def quoted(locator: str) -> list[float]:
    """The values that a locator quotes from its source."""
    text = re.sub(r"(?<=\d)-(?=\d)", " ", _PLACE.sub(" ", locator))
    return [float(number.replace(",", "")) for number in _NUMBER.findall(text)]


def printed(cell: Cell) -> bool:
    """Whether the value of a cell is among what its locator quotes, to the digits of the value; a
    per cent may stand as a share and the other way round.
    """
    match = re.match(r"-?\d+\.?(\d*)", cell.text[0].replace(",", ""))
    assert match is not None, cell.text[0]
    value, step = float(match[0]), 0.51 * 10 ** -len(match[1])
    share = cell.dimension in ("number", "share")
    return any(
        abs(number - value) <= step
        or (share and min(abs(number / 100 - value), abs(number * 100 - value)) <= step)
        for number in quoted(cell.at)
    )


@pytest.mark.transcribed
def test_a_value_that_was_read_stands_in_its_locator_where_that_quotes_numbers() -> None:
    """A middle of a printed range, a median of ours or another unit is derived, not read."""
    read = [(where, cell) for where, cell in cells() if cell.known == "read" and quoted(cell.at)]
    assert len({(cell.text, cell.source, cell.at) for _, cell in read}) > 120
    wrong = {f"{where}: {cell.text[0]}; {cell.at}" for where, cell in read if not printed(cell)}
    assert wrong == set()


@pytest.mark.property
def test_what_a_locator_quotes_is_found() -> None:
    """The test above can fail: places are left out, values and both ends of a range are found."""
    assert quoted("abstract, fallen leaves 4.8 to 13.1") == [4.8, 13.1]
    assert quoted("appendix A, table A.1, sawdust 39 % wet") == [39]
    assert quoted("table 5-3, ponderosa 0.38; record 1790") == [0.38]
    middle = located("10 %", "abstract, 4.8 to 13.1 %")
    assert not printed(middle)
    assert printed(located("13.1 %", "abstract, 4.8 to 13.1 %"))
    assert printed(located("0.131", "abstract, 13.1 %"))
    assert printed(located("13 %", "abstract, 0.13"))
    assert not printed(located("13 %", "abstract, 0.16"))


def located(value: str, at: str) -> Cell:
    """A cell of a share with a locator."""
    return Cell(0.0, 0.0, 0.0, "share", "linear", (value, value, value), at=at)


@pytest.mark.property
def test_a_derived_value_says_its_step() -> None:
    """Words for a judgement stand in a derived note only beside the step in numbers."""
    derived = [(where, cell) for where, cell in cells() if cell.known == "derived"]
    assert [where for where, cell in derived if not cell.note.strip()] == []
    vague = re.compile(r"\b(?:lowered|raised|recalled|towards|nearer|judged)\b")
    wrong = {
        f"{where}: {cell.note}"
        for where, cell in derived
        if vague.search(cell.note) and not re.search(r"\d", cell.note)
    }
    assert wrong == set()
