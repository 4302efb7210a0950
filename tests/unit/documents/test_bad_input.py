"""Every way in which a file or a call can be wrong, the place and the words that are given back,
and that nothing is guessed.

Each file case goes through the library and through the command line: exit status 2, nothing on
standard output, no traceback, the file as it was.
"""

from __future__ import annotations

import json
import pickle
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError

from builders import RunCli
from costs import seconds
from feedstock import (
    Appraisal,
    BatchRecord,
    Burn,
    FeedstockError,
    Heap,
    InputError,
    Job,
    Lot,
    Problem,
    UnknownName,
    appraise,
    appraise_lot,
    learn,
)
from feedstock.errors import MOST_PROBLEMS

pytestmark = pytest.mark.property


GOOD = "lots:\n  - material: oak\n    mass: 40 kg\n    moisture: 22 % wet\n"
WHOLE = ("not-a-number", "is not a whole number", "without a unit")
NOT_WRITTEN = ("not-a-number", "'1_000' is not a number as it is written", "in digits alone")


@dataclass(frozen=True)
class Case:
    """A file, and the one problem that it has: `at` is `line:column` as far as a line can be
    named.
    """

    name: str
    text: str | bytes
    at: str
    field: str
    code: str
    wrong: str
    right: str
    nearest: tuple[str, ...] = ()
    ending: str = ".yaml"

    @property
    def raw(self) -> bytes:
        return self.text if isinstance(self.text, bytes) else self.text.encode()


def in_lot(field: str) -> str:
    return f"lots[0].{field}" if field else "lots[0]"


def oak(name: str, line: str, at: str, field: str, *said: Any) -> Case:
    """One oak lot of 40 kg with one more line in it, the fourth of the file; `said` are the code,
    what is wrong, what would be right, and the nearest names.
    """
    text = f"lots:\n  - material: oak\n    mass: 40 kg\n    {line}\n"
    return Case(name, text, at, in_lot(field), *said)


def amount(name: str, line: str, at: str, field: str, *said: Any) -> Case:
    """One oak lot whose amount is this line, the third of the file."""
    return Case(name, f"lots:\n  - material: oak\n    {line}\n", at, in_lot(field), *said)


def burn(name: str, line: str, at: str, field: str, *said: Any) -> Case:
    """A good lot and a burn; the fifth line of the file."""
    return Case(name, f"{GOOD}{line}\n", at, field, *said)


def whole(name: str, written: str) -> Case:
    """A count that is not a whole number as it is written."""
    code, wrong, right = NOT_WRITTEN if "_" in written else WHOLE
    return amount(
        name,
        f"pieces: {{count: {written}, diameter: 3 cm, length: 1 m}}",
        "3:21",
        "pieces.count",
        code,
        wrong,
        right,
    )


QUANTITIES = [
    amount("no unit", "mass: 40", "3:11", "mass", "no-unit", "'40' has no unit", "40 kg or 90 lb"),
    amount(
        "wrong dimension",
        "mass: 40 L",
        "3:11",
        "mass",
        "wrong-dimension",
        "is a volume, not a mass",
        "40 kg or 90 lb",
    ),
    amount("zero", "mass: 0 kg", "3:11", "mass", "out-of-range", "'0 kg' is zero", "above zero"),
    amount(
        "negative",
        "mass: -3 kg",
        "3:11",
        "mass",
        "out-of-range",
        "'-3 kg' is negative",
        "above zero",
    ),
    amount(
        "not a number",
        "mass: nan kg",
        "3:11",
        "mass",
        "not-finite",
        "'nan kg' is not a number",
        "40 kg",
    ),
    amount(
        "YAML's not a number",
        "mass: .nan",
        "3:11",
        "mass",
        "not-a-quantity",
        "'.nan' is not a number and a unit",
        "40 kg",
    ),
    amount(
        "infinite",
        "mass: inf kg",
        "3:11",
        "mass",
        "not-finite",
        "'inf kg' is not a number",
        "40 kg",
    ),
    amount(
        "YAML's infinite",
        "mass: .inf",
        "3:11",
        "mass",
        "not-a-quantity",
        "'.inf' is not a number and a unit",
        "40 kg",
    ),
    amount(
        "overflow", "mass: 1e999 kg", "3:11", "mass", "not-finite", "too large a number", "40 kg"
    ),
    amount(
        "a mountain",
        "mass: 2000000 kg",
        "3:11",
        "mass",
        "out-of-range",
        "out of range",
        "at most 1e+06 kg",
    ),
    amount(
        "power tower",
        "mass: 9**9**9 kg",
        "3:11",
        "mass",
        "unknown-unit",
        "is not a unit that is known",
        "Units of mass",
    ),
    amount(
        "400 digits",
        f"mass: {'9' * 400} kg",
        "3:11",
        "mass",
        "too-long",
        "too long for a quantity",
        "at most 80 characters",
    ),
    amount(
        "division by nothing",
        "mass: 1/0 kg",
        "3:11",
        "mass",
        "not-a-quantity",
        "divides by nothing",
        "1/2",
    ),
    amount(
        "underscore in a quantity",
        "mass: 1_000 kg",
        "3:11",
        "mass",
        "unknown-unit",
        "is not a unit that is known",
        "Units of mass",
    ),
    amount(
        "other digits",
        'mass: "١ kg"',
        "3:11",
        "mass",
        "not-a-quantity",
        "is not a number and a unit",
        "40 kg",
    ),
    amount(
        "decimal comma",
        "volume: 1,5 m3",
        "3:13",
        "volume",
        "comma",
        "has a comma in its number",
        "Write 1.5 m3",
    ),
    amount(
        "comma for thousands",
        "mass: 1,000 kg",
        "3:11",
        "mass",
        "comma",
        "has a comma in its number",
        "Write 1000 kg",
    ),
    amount(
        "dash for a range",
        "mass: 35-45 kg",
        "3:11",
        "mass",
        "dash-range",
        "joins two numbers with a dash",
        "35 to 45 kg",
    ),
    amount(
        "inverted range",
        "mass: 45 to 35 kg",
        "3:11",
        "mass",
        "inverted-range",
        "from the higher to the lower",
        "lower end first",
    ),
    amount(
        "likely outside its range",
        "mass: 35 to 45 kg, likely 50 kg",
        "3:11",
        "mass",
        "inverted-range",
        "lies outside its range",
        "between the two ends",
    ),
    amount(
        "which ton",
        "mass: 4 ton",
        "3:11",
        "mass",
        "ambiguous-unit",
        "'ton' can mean several",
        "tonne (1000 kg), short ton",
    ),
    amount(
        "which ounce",
        "mass: 12 oz",
        "3:11",
        "mass",
        "ambiguous-unit",
        "'oz' can mean several",
        "oz wt",
    ),
    amount(
        "misspelt unit",
        "mass: 12 kilogramm",
        "3:11",
        "mass",
        "unknown-unit",
        "'kilogramm' is not a unit",
        "Units of mass",
        ("kilogram", "kilograms"),
    ),
    amount(
        "a list for a mass",
        "mass: [1 kg]",
        "3:11",
        "mass",
        "not-a-quantity",
        "is not a mass",
        "40 kg",
    ),
    amount(
        "a mapping for a mass",
        "mass: {a: 1}",
        "3:11",
        "mass",
        "not-a-quantity",
        "is not a mass",
        "40 kg",
    ),
    amount(
        "nothing for a mass",
        "mass:",
        "2:5",
        "",
        "no-amount",
        "the lot has no amount",
        "one of mass, volume",
    ),
    amount("an empty quoted mass", 'mass: ""', "3:11", "mass", "empty", "it is empty", "40 kg"),
]

MOISTURES = [
    oak(
        "no basis",
        "moisture: 22 %",
        "4:15",
        "moisture",
        "no-basis",
        "does not say on which basis",
        "22 % wet (water as a share of the whole)",
    ),
    oak(
        "another basis",
        "moisture: 22 % damp",
        "4:15",
        "moisture",
        "no-basis",
        "'damp' is not a basis",
        "22 % dry",
    ),
    oak(
        "moisture without a sign",
        "moisture: 22",
        "4:15",
        "moisture",
        "no-unit",
        "'22' is not a moisture",
        "22 % wet",
    ),
    oak(
        "reading without basis",
        "moisture: {reading: 22 %, by: pin}",
        "4:25",
        "moisture.reading",
        "no-basis",
        "does not say on which basis",
        "22 % dry",
    ),
    oak(
        "more water than oak holds",
        "moisture: 300 % dry",
        "4:15",
        "moisture",
        "over-ceiling",
        "more water than oak can hold",
        "meters read % dry",
    ),
    oak(
        "all water",
        "moisture: 100 % wet",
        "4:15",
        "moisture",
        "out-of-range",
        "is all water or more",
        "below 100 %",
    ),
    oak(
        "the wet end more than oak holds",
        "moisture: 20 to 75 % wet",
        "4:15",
        "moisture",
        "over-ceiling",
        "'20 to 75 % wet' is more water than oak can hold",
        "meters read % dry",
    ),
    oak(
        "next to no dry matter",
        "moisture: 96 % wet",
        "4:15",
        "moisture",
        "over-ceiling",
        "next to no dry matter",
        "below 95 % wet",
    ),
    oak(
        "negative moisture",
        "moisture: -3 % wet",
        "4:15",
        "moisture",
        "out-of-range",
        "is negative",
        "0 % or more",
    ),
    oak(
        "moisture in no way",
        "moisture: {}",
        "4:15",
        "moisture",
        "no-moisture",
        "in no way",
        "'22 % wet'",
    ),
    oak(
        "two moistures",
        "moisture: {condition: green, reading: 22 % dry}",
        "4:15",
        "moisture",
        "two-moistures",
        "more than one way",
        "'22 % wet'",
    ),
    oak(
        "half a weighing",
        "moisture: {wet: 412 g}",
        "4:15",
        "moisture",
        "missing-field",
        "before (`wet`) and after",
        "oven_dry: 330 g",
    ),
    oak(
        "heavier when dried",
        "moisture: {wet: 3 g, oven_dry: 4 g}",
        "4:15",
        "moisture",
        "out-of-range",
        "more after drying",
        "under oven_dry",
    ),
    oak(
        "which C",
        "moisture: {air: {temperature: 20 C, relative_humidity: 60 %}}",
        "4:35",
        "moisture.air.temperature",
        "ambiguous-unit",
        "'C' can mean several",
        "degC",
    ),
    oak(
        "humidity of 100 %",
        "moisture: {air: {temperature: 20 degC, relative_humidity: 100 %}}",
        "4:63",
        "moisture.air.relative_humidity",
        "out-of-range",
        "out of range",
        "up to 98 %",
    ),
]

NAMES = [
    Case(
        "unknown material",
        GOOD.replace("oak", "aple"),
        "2:15",
        "lots[0].material",
        "unknown-material",
        "no material 'aple'",
        "tables list",
        ("maple", "apple"),
    ),
    oak(
        "unknown sign",
        "signs: [bare wood, paintd]",
        "4:24",
        "signs[1]",
        "unknown-sign",
        "no sign 'paintd'",
        "tables list",
        ("painted",),
    ),
    oak(
        "unknown origin",
        "origin: my gardn",
        "4:13",
        "origin",
        "unknown-origin",
        "no origin 'my gardn'",
        "Write one of",
        ("my garden",),
    ),
    oak(
        "unknown condition",
        "moisture: {condition: seasond}",
        "4:27",
        "moisture.condition",
        "unknown-condition",
        "no moisture of oak for 'seasond'",
        "green, seasoned",
        ("seasoned",),
    ),
    oak(
        "unknown instrument",
        "moisture: {reading: 22 % dry, by: pinn}",
        "4:39",
        "moisture.by",
        "unknown-instrument",
        "no instrument 'pinn'",
        "pin, pinless",
        ("pin", "pinless"),
    ),
    amount(
        "unknown container",
        "containers: {count: 2, of: wheelbarow}",
        "3:32",
        "containers.of",
        "unknown-container",
        "no container 'wheelbarow'",
        "wheelbarrow, bucket",
        ("wheelbarrow",),
    ),
    Case(
        "unknown packing",
        "lots:\n  - material: oak\n    volume: 3 m3\n    packing: stackd\n",
        "4:14",
        "lots[0].packing",
        "unknown-packing",
        "no packing 'stackd' of oak",
        "stacked",
        ("stacked",),
    ),
    burn(
        "unknown burner",
        "burn: {burner: kettel}",
        "5:16",
        "burn.burner",
        "unknown-burner",
        "no burner 'kettel'",
        "Write one of",
        ("kettle",),
    ),
    burn(
        "unknown limits",
        "limits: EBC-Agr",
        "5:9",
        "limits",
        "unknown-limit-set",
        "no limit set 'EBC-Agr'",
        "Write one of",
        ("EBC-Agro",),
    ),
    oak(
        "YAML 1.1 takes it for false",
        "origin: no",
        "4:13",
        "origin",
        "unknown-origin",
        "no origin 'no'",
        "Write one of",
    ),
]

LOTS = [
    amount(
        "two amounts",
        "mass: 40 kg\n    volume: 3 L",
        "2:5",
        "",
        "two-amounts",
        "more than one way (mass, volume)",
        "one of mass, volume",
    ),
    amount(
        "no amount",
        "moisture: 22 % wet",
        "2:5",
        "",
        "no-amount",
        "the lot has no amount",
        "one of mass, volume",
    ),
    amount(
        "packing of a mass",
        "mass: 4 kg\n    packing: stacked",
        "4:14",
        "packing",
        "not-needed",
        "not to mass",
        "Take packing away",
    ),
    oak(
        "unknown field",
        "mositure: 22 % wet",
        "4:5",
        "mositure",
        "unknown-field",
        "'mositure' is not a field here",
        "Fields: name, material, mass",
        ("moisture",),
    ),
    oak(
        "field of a field, misspelt",
        "lenght: 1 m",
        "4:5",
        "lenght",
        "unknown-field",
        "'lenght' is not a field here",
        "Fields: name, material, mass",
        ("pieces.length",),
    ),
    amount(
        "unknown inner field",
        "pieces: {count: 3, dia: 3 cm, length: 1 m, diameter: 3 cm}",
        "3:24",
        "pieces.dia",
        "unknown-field",
        "'dia' is not a field",
        "Fields: count, length",
        ("diameter",),
    ),
    amount(
        "no cross-section",
        "pieces: {count: 3, length: 1 m}",
        "3:13",
        "pieces",
        "no-amount",
        "no cross-section",
        "Write diameter",
    ),
    amount(
        "half a board",
        "pieces: {count: 3, width: 9 cm, length: 1 m}",
        "3:13",
        "pieces",
        "missing-field",
        "both width and thickness",
        "thickness: 19 mm",
    ),
    amount(
        "no length",
        "pieces: {count: 3, diameter: 3 cm}",
        "3:13",
        "pieces.length",
        "missing-field",
        "is missing",
        "Write length:",
    ),
    amount(
        "one diameter for two",
        "pieces: {count: 3, diameters: 3 cm, length: 1 m}",
        "3:35",
        "pieces.diameters",
        "not-a-list",
        "a list is wanted",
        "[first, second]",
    ),
    amount(
        "a text for pieces",
        "pieces: 3",
        "3:13",
        "pieces",
        "not-a-mapping",
        "a mapping is wanted",
        "`field: value`",
    ),
    amount(
        "count of nothing",
        "pieces: {count: 0, diameter: 3 cm, length: 1 m}",
        "3:21",
        "pieces.count",
        "out-of-range",
        "'0' is out of range",
        "at least 1",
    ),
    oak("decay 7", "decay: 7", "4:12", "decay", "out-of-range", "'7' is out of range", "at most 5"),
    oak("decay 2.5", "decay: 2.5", "4:12", "decay", *WHOLE),
    oak(
        "year 12",
        "year: 12",
        "4:11",
        "year",
        "out-of-range",
        "'12' is out of range",
        "at least 1700",
    ),
    oak("all soil", "soil: 100 %", "4:11", "soil", "out-of-range", "out of range", "below 100 %"),
    oak("soil without a unit", "soil: 12", "4:11", "soil", "no-unit", "'12' has no unit", "20 %"),
    oak(
        "lying perhaps",
        "lying: maybe",
        "4:12",
        "lying",
        "not-yes-or-no",
        "neither yes nor no",
        "yes or no",
    ),
    oak(
        "empty name",
        'name: ""',
        "4:11",
        "name",
        "empty",
        "the text is empty",
        "leave the field out",
    ),
    oak(
        "endless name",
        f"name: {'x' * 300}",
        "4:11",
        "name",
        "too-long",
        "too long",
        "at most 200 characters",
    ),
    oak(
        "escape in a name",
        'name: "a\\e[31mb"',
        "4:11",
        "name",
        "control-character",
        "a control character stands in 'a?[31mb'",
        "plain text on one line",
    ),
    oak(
        "signs as a mapping",
        "signs: {a: b}",
        "4:12",
        "signs",
        "not-a-list",
        "a list is wanted",
        "after a dash",
    ),
    oak(
        "impossible sample",
        "measured: {sample: {oven_dry: 3 kg, volume: 1 L}}",
        "4:24",
        "measured.sample",
        "out-of-range",
        "density of 3e+03",
        "look at the units",
    ),
    Case(
        "two lots of one name",
        "lots:\n  - {name: a, material: oak, mass: 1 kg}\n  - {name: A, material: oak, "
        "mass: 1 kg}\n",
        "3:12",
        "lots[1].name",
        "duplicate-name",
        "two lots are named 'A' (lots[0] and lots[1])",
        "its own name",
    ),
    Case(
        "lots without a value",
        "lots:\n",
        "1:6",
        "lots",
        "not-a-list",
        "a list is wanted, not nothing",
        "after a dash",
    ),
    Case("no lots", "lots: []\n", "1:7", "lots", "empty", "the list is empty", "at least one"),
    Case(
        "lots as a text",
        "lots: oak\n",
        "1:7",
        "lots",
        "not-a-list",
        "a list is wanted, not 'oak'",
        "after a dash",
    ),
    Case(
        "a lot as a text",
        "lots:\n  - oak\n",
        "2:5",
        "lots[0]",
        "not-a-mapping",
        "'oak' is not a lot",
        "material: and an amount",
    ),
    Case(
        "a lot of nothing",
        "lots:\n  -\n",
        "2:4",
        "lots[0]",
        "not-a-mapping",
        "there is no lot here",
        "material: and an amount",
    ),
    Case(
        "the field lot",
        GOOD + "lot: 1\n",
        "5:1",
        "lot",
        "unknown-field",
        "'lot' is not a field here",
        "Fields: name, lots",
        ("lots",),
    ),
]

BURNS = [
    burn(
        "width and diameter",
        "burn: {burner: kettle, width: 1 m, diameter: 1 m}",
        "5:7",
        "burn",
        "two-amounts",
        "both width and diameter",
        "diameter for a round rim",
    ),
    burn(
        "too cold for a yield",
        "burn: {burner: kettle, temperature: 300 degC}",
        "5:37",
        "burn.temperature",
        "out-of-range",
        "outside the 350 to",
        "in that range",
    ),
    burn(
        "firing not of the burner",
        "burn: {burner: kettle, firing: closed}",
        "5:32",
        "burn.firing",
        "unknown-word",
        "not fired closed",
        "fed",
    ),
    burn(
        "unknown firing",
        "burn: {burner: kettle, firing: top}",
        "5:32",
        "burn.firing",
        "unknown-word",
        "'top' is not a word",
        "'top-lit'",
    ),
    burn(
        "burn as a text",
        "burn: kettle",
        "5:7",
        "burn",
        "not-a-mapping",
        "a mapping is wanted, not 'kettle'",
        "burn: {burner: cone pit",
    ),
    burn(
        "depth in kg",
        "burn: {burner: kettle, depth: 3 kg}",
        "5:31",
        "burn.depth",
        "wrong-dimension",
        "is a mass, not a length",
        "1.2 m",
    ),
    burn(
        "no time at all",
        "burn: {burner: kettle, duration: 0 min}",
        "5:34",
        "burn.duration",
        "out-of-range",
        "is zero",
        "above zero",
    ),
    burn(
        "heaped to the sky",
        "burn: {burner: kettle, heaped: 9}",
        "5:32",
        "burn.heaped",
        "out-of-range",
        "'9' is out of range",
        "at most 5",
    ),
]

TRAPS = [
    whole(f"count {written}", written)
    for written in ("no", "12:30", "1e3", "1_000", "2024-01-01", "0x10", "true", "2.5", "3 kg", "~")
]

SYNTAX = [
    oak(
        "duplicate key",
        "mass: 2 kg",
        "4:5",
        "",
        "duplicate-key",
        "'mass' stands a second time (first in line 3)",
        "Keep one",
    ),
    Case(
        "tab",
        "lots:\n  - material: oak\n\tmass: 4 kg\n",
        "3:1",
        "",
        "tab",
        "a tab stands where YAML wants spaces",
        "Indent with spaces",
    ),
    Case(
        "two colons",
        "lots:\n  - material: oak: 3\n",
        "2:18",
        "",
        "not-yaml",
        "not YAML that can be read",
        "in quotes",
    ),
    Case(
        "wrong indentation",
        "lots:\n  - material: oak\n   mass: 3 kg\n",
        "3:4",
        "",
        "not-yaml",
        "not YAML that can be read",
        "`field: value`",
    ),
    Case(
        "unclosed quote",
        'lots:\n  - material: "oak\n    mass: 4 kg\n',
        "2:15",
        "",
        "unclosed-quote",
        "a quote is opened here and never closed",
        "Close it",
    ),
    Case(
        "unclosed apostrophe",
        "lots:\n  - material: 'oak\n    mass: 4 kg\n",
        "2:15",
        "",
        "unclosed-quote",
        "a quote is opened here and never closed",
        "Close it",
    ),
    Case(
        "list at the top",
        "- material: oak\n",
        "1:1",
        "",
        "not-a-mapping",
        "begins with a list",
        "`lots:` at the left margin",
    ),
    Case(
        "text at the top",
        "oak\n",
        "1:1",
        "",
        "not-a-mapping",
        "a single text",
        "`lots:` at the left margin",
    ),
    Case(
        "empty document",
        "---\n...\n",
        "1:1",
        "",
        "not-a-mapping",
        "holds nothing",
        "`lots:` at the left margin",
    ),
    Case("empty", "", "", "", "empty", "the file is empty", "at least one lot"),
    Case("blank", " \n\n", "", "", "empty", "the file is empty", "at least one lot"),
    Case(
        "only comments",
        "# oak, 40 kg\n",
        "",
        "",
        "empty",
        "nothing but comments",
        "at least one lot",
    ),
    Case(
        "second document",
        GOOD + "---\n" + GOOD,
        "5:1",
        "",
        "documents",
        "a second document begins here",
        "delete the line ---",
    ),
    Case(
        "anchor",
        GOOD.replace("40 kg", "&a 40 kg"),
        "3:11",
        "lots[0].mass",
        "anchor",
        "an anchor (&) stands here",
        "plain value",
    ),
    Case(
        "undefined alias",
        GOOD.replace("oak", "*oak"),
        "2:15",
        "",
        "alias",
        "an alias (*) stands here",
        "Write the value out",
    ),
    Case(
        "tag",
        GOOD.replace("40 kg", "!!str 40 kg"),
        "3:11",
        "lots[0].mass",
        "tag",
        "a tag (!) stands here",
        "in quotes",
    ),
    Case(
        "tag that builds an object",
        GOOD.replace("40 kg", "!!python/object/apply:os.getcwd []"),
        "3:11",
        "lots[0].mass",
        "tag",
        "a tag (!) stands here",
        "in quotes",
    ),
    Case(
        "merge key",
        "lots:\n  - material: oak\n    <<: {mass: 4 kg}\n",
        "3:5",
        "lots[0]",
        "merge-key",
        "a merge key (<<)",
        "Write the fields out",
    ),
    Case(
        "a list as key",
        "lots:\n  - material: oak\n    ? [a]\n    : b\n",
        "3:7",
        "lots[0]",
        "key",
        "a key is a list",
        "plain word",
    ),
    Case(
        "21 levels",
        "lots: " + "[" * 20 + "]" * 20,
        "1:26",
        "lots" + "[0]" * 19,
        "depth",
        "more than 20 deep",
        "flatter",
    ),
    Case(
        "500 levels",
        "lots: " + "[" * 500 + "]" * 500,
        "1:106",
        "",
        "depth",
        "more than 20 deep",
        "flatter",
    ),
    Case(
        "40 levels of blocks",
        "".join(" " * i + "a:\n" for i in range(40)),
        "21:21",
        "a" + ".a" * 19,
        "depth",
        "more than 20 deep",
        "flatter",
    ),
]

ENCODINGS = [
    Case(
        "binary",
        b"\x89PNG\r\n\x1a\n\x00\x00\x00",
        "",
        "",
        "binary",
        "not a text file",
        ".yaml, .json or .csv",
    ),
    Case(
        "Latin-1",
        GOOD.replace("oak", "ch\xeane").encode("latin-1"),
        "2",
        "",
        "encoding",
        "0xea is not UTF-8 (the file may be in Latin-1)",
        "Save it as UTF-8",
    ),
    Case("UTF-16", GOOD.encode("utf-16"), "", "", "encoding", "in UTF-16", "Save it as UTF-8"),
    Case("bell", GOOD + "\x07\n", "5:1", "", "binary", "a control character", "Delete it"),
    Case("2 MiB", "# " + "x" * (2 << 20), "", "", "too-large", "larger than 1 MiB", "Split it"),
]

HEADER = "name,material,mass,moisture\n"


def sheet(name: str, text: str, at: str, field: str, *said: Any) -> Case:
    return replace(Case(name, text, at, field, *said), ending=".csv")


SHEETS = [
    sheet(
        "semicolons",
        HEADER.replace(",", ";") + "a;oak;1 kg;22 % wet\n",
        "1",
        "",
        "semicolon",
        "separated by semicolons",
        "with commas",
    ),
    sheet(
        "semicolons and a comma",
        "name;material;mass, kg\na;oak;1\n",
        "1",
        "",
        "semicolon",
        "separated by semicolons",
        "with commas",
    ),
    sheet(
        "tabs",
        HEADER.replace(",", "\t") + "a\toak\t1 kg\t22 % wet\n",
        "1",
        "",
        "tab",
        "separated by tabs",
        "with commas",
    ),
    sheet(
        "unknown column",
        "name,material,mas\na,oak,1 kg\n",
        "1:3",
        "mas",
        "unknown-field",
        "'mas' is not a field of a lot",
        "Fields: name, material, mass",
        ("mass",),
    ),
    sheet(
        "unknown column under a blank line",
        "\nname,material,mas\na,oak,1 kg\n",
        "2:3",
        "mas",
        "unknown-field",
        "'mas' is not a field of a lot",
        "Fields:",
        ("mass",),
    ),
    sheet(
        "column twice",
        "material,mass,mass\noak,1 kg,1 kg\n",
        "1:3",
        "mass",
        "duplicate-key",
        "the column 'mass' stands a second time",
        "Keep one",
    ),
    sheet(
        "column without a name",
        "material,,mass\noak,,1 kg\n",
        "1:2",
        "",
        "header",
        "column 2 has no name",
        "Name it",
    ),
    sheet(
        "short row",
        HEADER + "a,oak\n",
        "2",
        "",
        "row-length",
        "2 fields where the header has 4",
        "as many fields as the header",
    ),
    sheet(
        "decimal comma",
        HEADER + "a,oak,1,5 kg,22 % wet\n",
        "2",
        "",
        "comma",
        "5 fields where the header has 4; a number may hold a decimal comma",
        "Write 1.5, not 1,5",
    ),
    sheet(
        "unclosed quote",
        HEADER + 'a,oak,1 kg,\nb,"oak,1 kg,\nc,oak,1 kg,\n',
        "3",
        "",
        "not-csv",
        "a quote is opened in this row and never closed",
        "Close every quote",
    ),
    sheet("no rows", HEADER, "1", "", "empty", "no row under the header", "one row a lot"),
    sheet(
        "two moistures",
        "material,mass,moisture,moisture.reading\noak,1 kg,22 % wet,22 % dry\n",
        "2:4",
        "lots[0].moisture.reading",
        "two-moistures",
        "`moisture` is given in two columns",
        "Keep one",
    ),
    # the other order, in which the second column would quietly have taken the place of the first
    sheet(
        "two moistures the other way",
        "material,mass,moisture.reading,moisture\noak,1 kg,22 % wet,22 % dry\n",
        "2:4",
        "lots[0].moisture",
        "two-moistures",
        "`moisture` is given in two columns",
        "Keep one",
    ),
    sheet(
        "cell without a unit",
        HEADER + "\na,oak,40,22 % wet\n",
        "3:3",
        "lots[0].mass",
        "no-unit",
        "'40' has no unit",
        "40 kg",
    ),
    sheet(
        "unknown name in a cell",
        "material,mass,signs\noak,1 kg,bare wood|paintd\n",
        "2:3",
        "lots[0].signs[1]",
        "unknown-sign",
        "no sign 'paintd'",
        "tables list",
        ("painted",),
    ),
    sheet(
        "two rows of one name",
        HEADER + "a,oak,1 kg,\nA,oak,1 kg,\n",
        "3:1",
        "lots[1].name",
        "duplicate-name",
        "two lots are named 'A'",
        "its own name",
    ),
]


def braces(name: str, text: str, at: str, field: str, *said: Any) -> Case:
    return replace(Case(name, text, at, field, *said), ending=".json")


LOT = '"material": "oak", "mass": "1 kg"'

JSON = [
    braces(
        "no colon",
        '{"lots": [{"material": "oak",\n "mass" "1 kg"}]}',
        "2:9",
        "",
        "not-json",
        "not JSON",
        "write YAML in a .yaml file",
    ),
    braces(
        "not a number",
        '{"lots":\n [{"material": "NaN", "mass": NaN}]}',
        "2:31",
        "",
        "not-json",
        "NaN is not a number that JSON knows",
        "Fix it",
    ),
    braces(
        "infinite",
        '{"lots": [{"material": "oak", "mass": -Infinity}]}',
        "1:39",
        "",
        "not-json",
        "-Infinity is not a number that JSON knows",
        "Fix it",
    ),
    braces(
        "key twice",
        '{"lots": [{"material": "oak",\n "mass": "1 kg", "mass": "2 kg"}]}',
        "2:18",
        "lots[0]",
        "duplicate-key",
        "'mass' stands a second time (first in line 2)",
        "Keep one",
    ),
    braces(
        "bare number",
        '{"lots": [{"material": "oak", "mass": 40}]}',
        "1:39",
        "lots[0].mass",
        "no-unit",
        "'40' has no unit",
        "40 kg",
    ),
    braces("no lots at all", "{}", "1:1", "lots", "missing-field", "is missing", "Write lots:"),
    braces(
        "nothing for lots",
        '{"lots": null}',
        "1:10",
        "lots",
        "not-a-list",
        "a list is wanted",
        "after a dash",
    ),
    braces(
        "nothing for a material",
        '{"lots": [{"material": null, "mass": "1 kg"}]}',
        "1:24",
        "lots[0].material",
        "not-text",
        "a text is wanted",
        "plain text",
    ),
    braces(
        "true for a class",
        f'{{"lots": [{{{LOT}, "decay": true}}]}}',
        "1:56",
        "lots[0].decay",
        *WHOLE,
    ),
    braces(
        "5,000 digits",
        f'{{"lots": [{{{LOT}, "decay": {"9" * 5000}}}]}}',
        "1:56",
        "lots[0].decay",
        *WHOLE,
    ),
    braces("100,000 levels", "[" * 100_000, "", "", "depth", "more than 20 deep", "flatter"),
    braces(
        "half a character",
        f'{{"lots": [{{{LOT}, "name": "\\ud83d"}}]}}',
        "1:58",
        "",
        "not-yaml",
        "invalid Unicode character",
        "in quotes",
    ),
]

CASES = [
    *QUANTITIES,
    *MOISTURES,
    *NAMES,
    *LOTS,
    *BURNS,
    *TRAPS,
    *SYNTAX,
    *ENCODINGS,
    *SHEETS,
    *JSON,
]


def appraised(path: Path) -> Appraisal:
    job = Job.read(path)
    return appraise(job.heap, job.burn, limits=job.limits)


def test_there_are_enough_cases_and_no_two_of_one_name() -> None:
    assert len(CASES) == len({(case.name, case.ending) for case in CASES}) >= 100


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.name}{case.ending}")
def test_one_thing_wrong_in_a_file(case: Case, tmp_path: Path, run_cli: RunCli) -> None:
    path = tmp_path / f"heap{case.ending}"
    path.write_bytes(case.raw)
    with pytest.raises(InputError) as caught:
        appraised(path)
    [problem] = caught.value.problems
    line, _, column = case.at.partition(":")
    assert problem.code == case.code
    assert problem.file == str(path)
    assert (problem.line, problem.column) == (
        int(line) if line else None,
        int(column) if column else None,
    )
    assert problem.field == case.field
    assert case.wrong in problem.what
    assert case.right in problem.expected
    assert problem.nearest[: len(case.nearest)] == case.nearest
    assert len(problem.nearest) <= 3

    status, out, err = run_cli("appraise", path)
    assert (status, out) == (2, "")
    first, told = err.split("\n", 1)
    assert first == "feedstock: 1 thing to fix; nothing was done"
    assert told == f"  {problem}\n"
    assert told.startswith(f"  {':'.join(part for part in (str(path), case.at) if part)}: ")
    assert "Traceback" not in err
    assert path.read_bytes() == case.raw


@pytest.mark.parametrize(
    "text",
    [case.raw for case in CASES if "9**" in str(case.text) or "levels" in case.name],
    ids=lambda raw: raw[:40],
)
def test_a_hostile_file_is_refused_at_once(text: bytes, tmp_path: Path, run_cli: RunCli) -> None:
    path = tmp_path / "heap.yaml"
    path.write_bytes(text)
    assert run_cli("appraise", path)[0] == 2
    assert costs_no_more_than_some_good_files(path, run_cli)


def costs_no_more_than_some_good_files(path: Path, run_cli: RunCli) -> bool:
    """Refusing 100,000 levels takes some three times what one good lot does; what is unfolded or
    worked out never ends.
    """
    good = path.with_name("good.yaml")
    good.write_text(GOOD)
    usual = seconds(lambda: run_cli("appraise", good), 2)
    return seconds(lambda: run_cli("appraise", path), 2) < 30 * usual


# ---- what is no file, or none that may be read


def test_a_missing_file_gets_the_nearest_name(tmp_path: Path, run_cli: RunCli) -> None:
    (tmp_path / "hedge_2024.yaml").write_text(GOOD)
    path = tmp_path / "hegde_2024.yaml"
    with pytest.raises(InputError) as caught:
        Job.read(path)
    expected = "Give the path of a .yaml, .json or .csv file."
    assert caught.value.problems == (
        Problem(
            "missing",
            "there is no such file",
            expected,
            file=str(path),
            nearest=("hedge_2024.yaml",),
        ),
    )
    status, out, err = run_cli("appraise", path)
    assert (status, out) == (2, "")
    assert "no such file" in err
    assert "Nearest: hedge_2024.yaml." in err


@pytest.mark.parametrize("ending", ["", ".csv", ".json"])
def test_a_folder_is_not_a_file(ending: str, tmp_path: Path, run_cli: RunCli) -> None:
    path = tmp_path / f"heap{ending}"
    path.mkdir()
    status, out, err = run_cli("appraise", path)
    assert (status, out) == (2, "")
    assert (
        f"  {path}: this is a folder, not a file. Give the path of a .yaml, .json or .csv file.\n"
        in err
    )


@pytest.mark.parametrize("key", ["burn: {burner: kettle}", "limits: EBC-Agro", "tables: mine.yaml"])
def test_a_heap_does_not_take_what_belongs_to_a_job(key: str, tmp_path: Path) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(GOOD + key + "\n")
    with pytest.raises(InputError) as caught:
        Heap.read(path)
    [problem] = caught.value.problems
    assert (problem.code, problem.line, problem.column, problem.field) == (
        "job-file",
        5,
        1,
        key.partition(":")[0],
    )
    assert "Use Job.read" in problem.expected


def test_an_alias_is_refused_along_with_its_anchor(tmp_path: Path, run_cli: RunCli) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text("name: &a oak\nlots:\n  - material: *a\n    mass: 4 kg\n")
    status, out, err = run_cli("appraise", path)
    assert (status, out) == (2, "")
    assert f"{path}:1:7: name: an anchor (&) stands here." in err
    # the node behind an alias knows only where its anchor stands
    assert f"{path}:1:7: lots[0].material: an anchor (&) stands here." in err


def test_aliases_that_multiply_are_refused_at_once(tmp_path: Path, run_cli: RunCli) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(
        "a: &a [x, x]\n"
        + "".join(
            f"{chr(98 + i)}: &{chr(98 + i)} [{', '.join(['*' + chr(97 + i)] * 10)}]\n"
            for i in range(9)
        )
    )
    status, out, err = run_cli("appraise", path)
    assert costs_no_more_than_some_good_files(path, run_cli)
    assert (status, out) == (2, "")
    assert "an anchor (&) stands here" in err
    assert "Traceback" not in err


def test_tables_that_are_not_there(tmp_path: Path, run_cli: RunCli) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(GOOD + "tables: mine.yaml\n")
    status, out, err = run_cli("appraise", path)
    assert (status, out) == (2, "")
    assert f"{tmp_path / 'mine.yaml'}: there is no such file or folder." in err
    assert "Traceback" not in err


# ---- many things at once


def test_all_problems_are_told_at_once_and_in_order(tmp_path: Path, run_cli: RunCli) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(
        "lots:\n  - material: oak\n    mass: 40\n    moisture: 22 %\n"
        "  - material: pine\n    mass: 1 kg\n    decay: 9\nburn: {burner: kettle, depth: 3 kg}\n"
    )
    status, out, err = run_cli("appraise", path)
    assert (status, out) == (2, "")
    places = [line.split(": ")[0].removeprefix(f"  {path}:") for line in err.splitlines()[1:]]
    assert places == ["3:11", "4:15", "7:12", "8:31"]
    assert err.startswith("feedstock: 4 things to fix; nothing was done\n")


def test_all_unknown_names_are_told_at_once(tmp_path: Path) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(
        "lots:\n  - {material: aple, mass: 1 kg, origin: deckk}\n  - {material: oak, "
        "mass: 1 kg, signs: [paintd]}\nburn: {burner: kettel}\n"
    )
    with pytest.raises(UnknownName) as caught:
        appraised(path)
    assert [(p.code, p.line) for p in caught.value.problems] == [
        ("unknown-material", 2),
        ("unknown-origin", 2),
        ("unknown-sign", 3),
        ("unknown-burner", 4),
    ]


@pytest.mark.parametrize(
    "lot",
    ["{material: oak, mass: 40}", "{material: aple, mass: 40 kg}"],
    ids=["while reading", "while looking up"],
)
def test_sixty_problems_are_cut_at_fifty_and_that_is_said(
    lot: str, tmp_path: Path, run_cli: RunCli
) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text("lots:\n" + f"  - {lot}\n" * 60)
    with pytest.raises(InputError) as caught:
        appraised(path)
    assert (len(caught.value.problems), caught.value.left_out) == (MOST_PROBLEMS, 10)
    again = pickle.loads(pickle.dumps(caught.value))
    assert (again.problems, again.left_out, str(again)) == (
        caught.value.problems,
        10,
        str(caught.value),
    )
    _, _, err = run_cli("appraise", path)
    lines = err.splitlines()
    assert lines[0] == "feedstock: 60 things to fix; nothing was done"
    assert len(lines) == 1 + MOST_PROBLEMS + 1
    assert lines[-1] == "  and 10 more of the kind"


# ---- what looks odd and is taken as it is written


@pytest.mark.parametrize("written, count", [("010", 10), ("+5", 5), ("5", 5), ("5.0", 5)])
def test_a_count_is_read_in_tens(written: str, count: int, tmp_path: Path) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(
        f"lots:\n  - material: oak\n    pieces: {{count: {written}, diameter: 3 cm, length: 1 m}}\n"
    )
    pieces = Heap.read(path).lots[0].pieces
    assert pieces is not None
    assert pieces.count == count


@pytest.mark.parametrize(
    "name",
    ["no", "12:30", "010", "1e3", "2024-01-01", "1_000", "~", "null", "true", "0x1F", ".inf"],
)
def test_a_name_stays_the_text_that_it_is(name: str, tmp_path: Path) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(GOOD + f"    name: {name}\n")
    assert Heap.read(path).lots[0].name == name


@pytest.mark.parametrize("text", ["1e3 kg", "1000 kg", "1 t"])
def test_an_exponent_is_a_number(text: str, tmp_path: Path) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(GOOD.replace("40 kg", text))
    mass = Heap.read(path).lots[0].mass
    assert mass is not None
    assert mass.mid == 1000


@pytest.mark.parametrize(
    "written, lying", [("no", False), ("yes", True), ("false", False), ("off", False)]
)
def test_yes_and_no_where_they_are_asked_for(written: str, lying: bool, tmp_path: Path) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(GOOD + f"    lying: {written}\n")
    assert Heap.read(path).lots[0].lying is lying


@pytest.mark.parametrize(
    "ending, text",
    [
        (".yaml", GOOD),
        (".csv", "material,mass,moisture\noak,40 kg,22 % wet\n"),
        (".json", '{"lots": [{"material": "oak", "mass": "40 kg", "moisture": "22 % wet"}]}'),
    ],
)
@pytest.mark.parametrize(
    "change",
    [lambda t: "\ufeff" + t, lambda t: t.replace("\n", "\r\n"), lambda t: t.rstrip("\n")],
    ids=["byte order mark", "CRLF", "no last line break"],
)
def test_marks_that_editors_leave_are_no_fault(
    ending: str, text: str, change: Callable[[str], str], tmp_path: Path
) -> None:
    path = tmp_path / f"heap{ending}"
    path.write_bytes(change(text).encode())
    assert Heap.read(path) == Heap(lots=[Lot(material="oak", mass="40 kg", moisture="22 % wet")])


def test_json_may_be_indented_with_tabs_and_hold_every_escape(tmp_path: Path) -> None:
    path = tmp_path / "heap.json"
    path.write_text(
        '{\n\t"lots": [\n\t\t{"material": "o\\u0061k", "mass":"40 kg", "decay": 2, '
        '"moisture": null, '
        '"name": "a\\/b \\\\/ \\"q\\" \\ud83e\\udeb5 \u00b7 null"}]}'
    )
    lot = Heap.read(path).lots[0]
    assert (lot.material, lot.decay, lot.moisture, lot.name) == (
        "oak",
        2,
        None,
        'a/b \\/ "q" \U0001fab5 \u00b7 null',
    )


# ---- calls


CALLS: list[tuple[str, Callable[[], object], str]] = [
    (
        "no unit",
        lambda: Lot(material="oak", mass="40"),
        "'40' has no unit. Write a number and a unit of mass, for instance 40 kg or 90 lb.",
    ),
    ("a bare number", lambda: Lot(material="oak", mass=40), "40 has no unit."),  # type: ignore[arg-type]
    (
        "no basis",
        lambda: Lot(material="oak", mass="40 kg", moisture="22 %"),
        "does not say on which basis. Write 22 % wet",
    ),
    (
        "two amounts",
        lambda: Lot(material="oak", mass="40 kg", volume="3 L"),
        "more than one way (mass, volume). Write one of mass",
    ),
    ("no amount", lambda: Lot(material="oak"), "the lot has no amount. Write one of mass"),
    ("not a number", lambda: Lot(material="oak", mass="nan kg"), "'nan kg' is not a number."),
    (
        "power tower",
        lambda: Lot(material="oak", mass="9**9**9 kg"),
        "is not a unit that is known here.",
    ),
    (
        "True for a count",
        lambda: Lot(material="oak", pieces={"count": True, "diameter": "3 cm", "length": "1 m"}),
        "'True' is not a number as it is written here.",
    ),
    (
        "an escape in a name",
        lambda: Lot(material="oak", mass="4 kg", name="a\x1b[2Jb"),
        "a control character stands in 'a?[2Jb'.",
    ),
    (
        "a range the wrong way",
        lambda: Lot(material="oak", mass="45 to 35 kg"),
        "runs from the higher to the lower end",
    ),
    (
        "a text as a lot",
        lambda: Heap(lots=["oak"]),  # type: ignore[list-item]
        "'oak' is not a lot. Write material: and an amount for each lot.",
    ),
    (
        "two of one name",
        lambda: Heap(lots=[Lot(name="a", material="oak", mass="4 kg")] * 2),
        "two lots are named 'a' (lots[0] and lots[1]). Give each its own name.",
    ),
    (
        "two widths",
        lambda: Burn(burner="kettle", width="1 m", diameter="1 m"),
        "both width and diameter are given. Write diameter",
    ),
    (
        "not of this world",
        lambda: Burn(burner="kettle", temperature="1500 degC"),
        "'1500 degC' is out of range. Write the highest temperature",
    ),
]


@pytest.mark.parametrize(
    "call, words", [each[1:] for each in CALLS], ids=[each[0] for each in CALLS]
)
def test_a_constructor_says_it_in_our_words(call: Callable[[], object], words: str) -> None:
    with pytest.raises(ValidationError) as caught:
        call()
    assert words in str(caught.value)


OAK: dict[str, Any] = {"material": "oak", "mass": "40 kg", "moisture": "22 % wet"}
UNKNOWN: list[tuple[dict[str, Any], dict[str, Any], str, str]] = [
    ({"material": "aple"}, {}, "unknown-material", "lots[0].material"),
    ({"signs": ["paintd"]}, {}, "unknown-sign", "lots[0].signs[0]"),
    ({"origin": "own gardn"}, {}, "unknown-origin", "lots[0].origin"),
    ({"moisture": {"condition": "seasond"}}, {}, "unknown-condition", "lots[0].moisture.condition"),
    (
        {"moisture": {"reading": "22 % dry", "by": "pinn"}},
        {},
        "unknown-instrument",
        "lots[0].moisture.by",
    ),
    (
        {"mass": None, "containers": {"count": 2, "of": "bukket"}},
        {},
        "unknown-container",
        "lots[0].containers.of",
    ),
    (
        {"mass": None, "volume": "3 m3", "packing": "stackd"},
        {},
        "unknown-packing",
        "lots[0].packing",
    ),
    ({}, {"burn": Burn(burner="kettel")}, "unknown-burner", "burn.burner"),
    ({}, {"limits": "EBC-Agr"}, "unknown-limit-set", "limits"),
]


@pytest.mark.parametrize("lot, rest, code, field", UNKNOWN, ids=[each[2] for each in UNKNOWN])
def test_an_unknown_name_is_an_error_of_its_own(
    lot: dict[str, Any], rest: dict[str, Any], code: str, field: str
) -> None:
    with pytest.raises(UnknownName) as caught:
        appraise(Heap(lots=[Lot(**{**OAK, **lot})]), **rest)
    [problem] = caught.value.problems
    assert (problem.code, problem.field, problem.file, problem.line) == (code, field, None, None)
    assert 1 <= len(problem.nearest) <= 3
    assert isinstance(caught.value, InputError)
    assert isinstance(caught.value, FeedstockError)
    assert isinstance(caught.value, ValueError)


def test_what_was_given_beside_a_file_is_not_said_to_stand_in_it(tmp_path: Path) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(GOOD)
    with pytest.raises(UnknownName) as caught:
        appraise(Heap.read(path), Burn(burner="kettel"))
    assert caught.value.problems[0].place == ""


# ---- results that come back


@pytest.fixture(scope="module")
def written() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(appraise(Heap(lots=[Lot(**OAK)])).model_dump_json())
    return found


@pytest.mark.parametrize(
    "unit",
    ["9**9**9 kg", "lb", "g", "L", "kg; import os", "", "kg" * 50_000, None, 3, ["kg"]],
    ids=lambda unit: repr(unit)[:20],
)
def test_a_figure_comes_back_in_its_own_unit_only(unit: object, written: dict[str, Any]) -> None:
    text = json.dumps({**written, "char_mass": {**written["char_mass"], "unit": unit}})
    with pytest.raises(ValidationError) as caught:
        Appraisal.model_validate_json(text)
    [error] = caught.value.errors()
    assert error["loc"] == ("char_mass",)
    assert (
        "this figure is in kg" in error["msg"] or "is not a unit that is known here" in error["msg"]
    )


def test_a_result_that_nobody_touched_comes_back(written: dict[str, Any]) -> None:
    assert (
        json.loads(Appraisal.model_validate_json(json.dumps(written)).model_dump_json()) == written
    )


# --- what a weighing, a share and a program can get wrong -----------------------------------------


def oak_lot(**given: Any) -> Lot:
    return Lot(**({"material": "oak", "mass": "40 kg", "origin": "own trees"} | given))


@pytest.mark.property
@pytest.mark.parametrize(
    "moisture", [{"wet": "1000 g", "oven_dry": "100 g"}, "50 to 90 % wet", "90 % wet"]
)
def test_water_that_wood_cannot_hold_is_refused_however_it_is_told(moisture: Any) -> None:
    with pytest.raises(InputError) as why:
        appraise(Heap(lots=[oak_lot(moisture=moisture)]))
    assert "more water than oak can hold" in str(why.value)


@pytest.mark.property
def test_own_ranges_of_a_weighing_count() -> None:
    exact, ranged = (
        appraise(Heap(lots=[oak_lot(moisture=each)])).lots[0].moisture
        for each in (
            {"wet": "412 g", "oven_dry": "330 g"},
            {"wet": "400 to 424 g", "oven_dry": "300 to 360 g"},
        )
    )
    assert ranged.high_value - ranged.low_value > 3 * (exact.high_value - exact.low_value)


@pytest.mark.property
def test_a_share_stays_a_share_and_more_soil_never_raises_an_end() -> None:
    before = None
    for soil in range(60, 96, 2):
        found = appraise(
            Heap(
                lots=[
                    Lot(
                        material="leaves",
                        volume="1 m^3",
                        packing="loose",
                        moisture="15 % wet",
                        soil=f"{soil} %",
                        origin="own garden",
                    )
                ]
            )
        ).lots[0]
        assert found.char_volume is not None
        assert found.char_carbon is not None
        ends = (
            found.dry_mass.high_value,
            found.char_volume.low_value,
            found.char_volume.high_value,
            found.char_carbon.high_value,
        )
        assert before is None or all(
            now <= then * (1 + 1e-9) for now, then in zip(ends, before, strict=True)
        ), soil
        before = ends


@pytest.mark.property
@pytest.mark.parametrize(
    "given",
    [
        {"mass": "1e-200 kg"},
        {"mass": "1e-300 to 1 kg, likely 0.5 kg"},
        {"mass": None, "pieces": {"count": 3, "length": "1 m", "diameter": "1e-100 m"}},
        {"mass": None, "volume": "1e-12 L", "packing": "stacked"},
    ],
)
def test_an_amount_next_to_nothing_is_refused(given: dict[str, Any]) -> None:
    with pytest.raises(ValidationError, match="too small"):
        oak_lot(**given)


@pytest.mark.property
def test_a_slip_in_a_program_gets_a_sentence() -> None:
    heap = Heap(lots=[oak_lot(moisture="15 % wet")])
    slips: list[dict[str, Any]] = [{"limits": 5}, {"experience": "mine.json"}]
    for slip in slips:
        with pytest.raises(InputError, match="was given as"):
            appraise(heap, **slip)
    with pytest.raises(InputError, match="was given as figure"):
        appraise(heap).explain(5)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="a Heap was given as lot"):
        appraise_lot(heap)  # type: ignore[arg-type]
    for records in (
        5,
        BatchRecord.model_validate(
            {"lots": [oak_lot()], "burn": {"burner": "pit"}, "char": {"volume": "20 L"}}
        ),
    ):
        with pytest.raises(InputError, match="was given as records"):
            learn(records)  # type: ignore[arg-type]


@pytest.mark.property
def test_no_char_of_a_lot_that_is_kept_out_is_explained() -> None:
    result = appraise(
        Heap(
            lots=[
                Lot(
                    material="treated timber",
                    name="fence",
                    mass="10 kg",
                    moisture="15 % wet",
                    origin="fence",
                )
            ]
        )
    )
    for name in ("char_mass", "char_volume", "char_carbon"):
        with pytest.raises(UnknownName, match="kept out"):
            result.explain(f"lots.fence.{name}")
    assert result.explain("lots.fence.dry_mass").mid == result.lots[0].dry_mass.mid_value


@pytest.mark.property
def test_a_result_of_another_schema_is_refused() -> None:
    result = appraise(Heap(lots=[oak_lot(moisture="15 % wet")]))
    text = result.model_dump_json()
    with pytest.raises(ValidationError, match="schema 99"):
        type(result).model_validate_json(
            text.replace('"schema":1', '"schema":99', 1).replace('"schema_":1', '"schema_":99', 1)
        )
