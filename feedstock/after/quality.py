"""What the char is expected to be made of, which published classes that would meet, and a first
sort by hand and eye.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ..chain import Bound, bind
from ..errors import Problem, UnknownName, nearest_names, shown
from ..estimate import Estimate
from ..figures import Figure, Input, Origin, Scale, Step, figures, formula
from ..percentiles import P95
from ..physics import permanence
from ..physics import quality as physics
from ..results import Appraisal, Citation, LotAppraisal, Verdict
from ..results_after import ClassForecast, FieldSort, Qualities, Quality
from ..rules.moisture import cited
from ..tables import Tables, load_tables
from ..tables.methods_after import CharQuality
from ..tables.methods_quality import CharClass, CharStandards, FieldSigns
from ..tables.names import Index
from ..tables.schema import Cell, Sourced


@dataclass(slots=True)
class CharOf:
    """The char of one lot: its chain with the steps of its composition behind it, and its class of
    material.
    """

    name: str
    bound: Bound
    steps: list[Step]
    inputs: list[Input]
    class_: str
    row: str
    keep: bool

    def figures(self, *wanted: str) -> dict[str, Figure]:
        return figures((*self.bound.chain, *self.steps), [*self.bound.inputs, *self.inputs], wanted)

    @property
    def temperature(self) -> float:
        return float(next(each.mid for each in self.bound.inputs if each.name == "temperature"))


def chars_of(appraisal: Appraisal, tables: Tables) -> list[CharOf]:
    """Every lot of an appraisal that is not to be kept out, bound again with the composition of its
    char.
    """
    given = appraisal.inputs
    burner = tables.find(
        "burners", given.burn.burner if given.burn is not None else tables.defaults[1].burner
    )
    out = []
    for index, (lot, result) in enumerate(zip(given.heap.lots, appraisal.lots, strict=True)):
        if result.verdict is not Verdict.KEEP_OUT:
            bound = bind(
                lot, result.row, tables, burner, given.burn, f"lots[{index}]", given.experience
            )
            out.append(_composed(result, bound, tables))
    return out


def _composed(result: LotAppraisal, bound: Bound, tables: Tables) -> CharOf:
    full, method = tables.method("char-quality", CharQuality)
    class_ = tables.material(result.row).class_ or ""
    found = CharOf(result.name, bound, [], [], class_, result.row, True)
    group = method.groups.get(class_, "wood")
    curve = method.curves[group]

    def cell(name: str, each: Cell, *path: str | int) -> str:
        found.inputs.append(
            Input(
                name,
                each.low,
                each.mid,
                each.high,
                each.scale,
                f"row:{full.replace(':', '/', 1)}/{'/'.join(map(str, path))}",
                tables.origin("methods", full, path, each),
            )
        )
        return name

    def step(output: str, function: Any, *inputs: str, scale: Scale = "log") -> None:
        found.steps.append(Step(output, function, inputs, scale))

    step(
        "h_c",
        physics.hydrogen_to_carbon,
        "temperature",
        cell("h_start", curve.start, "curves", group, "start"),
        cell("h_rate", curve.rate, "curves", group, "rate"),
        cell("h_doubt", curve.doubt, "curves", group, "doubt"),
    )
    for name, function in (("carbon", physics.oxygen_in_char), ("oxygen", physics.oxygen_in_char)):
        curve_of = getattr(method, name)
        step(
            f"plain_{name}",
            function,
            "temperature",
            *(
                cell(f"plain_{name}_{part}", getattr(curve_of, part), name, part)
                for part in ("rest", "span", "rate")
            ),
            scale="logit",
        )
    for name in ("carbon", "oxygen"):
        cell(f"atomic_{name}", getattr(method.atomic, name), "atomic", name)
    # the oxygen follows the hydrogen from laboratory to laboratory, since both fall as a char is
    # driven further
    step(
        "plain_o_c",
        physics.molar_ratio,
        "plain_oxygen",
        "plain_carbon",
        "atomic_oxygen",
        "atomic_carbon",
    )
    step("o_c", _times, "plain_o_c", "h_doubt")
    step("ash_in_char", physics.char_ash, "ash", "ash_kept", "char_yield", scale="logit")
    step("organic", physics.organic_carbon, "carbon_of_char", "ash_in_char", scale="logit")
    _volatile(found, tables)
    return found


@formula(
    "oxygen ratio with the doubt of other laboratories",
    "identity",
    ratio="1",
    doubt="1",
    result="1",
)
def _times(ratio: Any, doubt: Any) -> Any:
    return ratio * doubt


@formula(
    "volatile matter of the char",
    "table of points by temperature, linear between, on an ash basis",
    temperature="degC",
    error="1",
    ash="1",
    result="1",
)
def _volatile_share(temperature: Any, low: Any, mid: Any, high: Any, error: Any, ash: Any) -> Any:
    value = mid + (error * (high - mid) if error > 0 else -error * (low - mid))
    return value * (1.0 - ash)


@formula(
    "fixed carbon of the char",
    "identity, 1 - volatile matter - ash",
    volatile="1",
    ash="1",
    result="1",
)
def _fixed(volatile: Any, ash: Any) -> Any:
    return max(1.0 - volatile - ash, 0.0)


def _volatile(found: CharOf, tables: Tables) -> None:
    full, method = tables.method("char-standards", CharStandards)
    points = [each.temperature.mid for each in method.volatile]
    for end in ("low", "mid", "high"):
        values = [getattr(each.share, end) for each in method.volatile]

        def read(
            temperature: Any, points: Sequence[float] = points, values: Sequence[float] = values
        ) -> Any:
            return permanence.between(temperature, points, values)

        found.steps.append(
            Step(
                f"volatile_{end}",
                formula(
                    "volatile matter of ash-free char",
                    "table of points by temperature",
                    temperature="degC",
                    result="1",
                )(read),
                ("temperature",),
            )
        )
    origin = tables.origin("methods", full, ("volatile", 0, "share"), method.volatile[0].share)
    found.inputs.append(
        Input(
            "volatile_error",
            -1.0,
            0.0,
            1.0,
            "linear",
            f"row:{full.replace(':', '/', 1)}/volatile",
            origin,
        )
    )
    found.steps.append(
        Step(
            "volatile",
            _volatile_share,
            (
                "temperature",
                "volatile_low",
                "volatile_mid",
                "volatile_high",
                "volatile_error",
                "ash_in_char",
            ),
            "logit",
        )
    )
    found.steps.append(Step("fixed", _fixed, ("volatile", "ash_in_char"), "logit"))


def quality(
    appraisal: Appraisal, signs: Sequence[str] = (), tables: Tables | None = None
) -> Qualities:
    """The quality that the char of an appraisal is expected to have, lot by lot, and with `signs` a
    first sort.

    Molar H/C and O/C, organic carbon, ash, volatile matter and fixed carbon are 90 % intervals. A
    forecast is no analysis: what only a laboratory can tell is listed with the test to order.
    Raises UnknownName for a sign that is not known.
    """
    tables = tables if tables is not None else load_tables()
    _, standards = tables.method("char-standards", CharStandards)
    lots = tuple(_quality(each, tables) for each in chars_of(appraisal, tables))
    notes = [
        "A forecast from temperature and feed: it is no analysis, and from a yield "
        "alone temperature cannot be told."
    ]
    least = standards.least_temperature.mid
    notes += [
        f"{each.lot}: at about {each.temperature.mid_value:.0f} degC it is charred "
        f"wood and is not called biochar, which is made above {least:.0f} degC."
        for each in lots
        if not each.biochar
    ]
    if any(each.extrapolated for each in lots):
        notes.append(
            "Above 600 degC the H/C curve is extrapolated; measured wood chars lie "
            "somewhat below it."
        )
    return Qualities(
        lots=lots,
        sort=sort_char(signs, tables) if signs else None,
        laboratory=dict(standards.laboratory),
        notes=tuple(notes),
    )


def _share(figure: Figure, factor: float = 100.0, unit: str = "%") -> Estimate:
    low, high = figure.ends
    most = 1.0 if unit == "%" else float("inf")
    mid = min(max(figure.mid, 0.0), most)
    return Estimate(
        max(min(low, mid), 0.0) * factor, mid * factor, min(max(high, mid), most) * factor, unit
    )


def _quality(char: CharOf, tables: Tables) -> Quality:
    _, method = tables.method("char-quality", CharQuality)
    full, standards = tables.method("char-standards", CharStandards)
    found = char.figures("temperature", "h_c", "o_c", "ash_in_char", "organic", "volatile", "fixed")
    low, high = found["temperature"].ends
    temperature = Estimate(low, found["temperature"].mid, high, "degC")
    shares = {name: _share(found[name]) for name in ("organic", "ash_in_char", "volatile", "fixed")}
    hydrogen, oxygen = _share(found["h_c"], 1.0, "1"), _share(found["o_c"], 1.0, "1")
    biochar = char.temperature >= standards.least_temperature.mid
    classes = (
        tuple(
            _class(key, each, hydrogen, oxygen, shares, tables, full)
            for key, each in standards.classes.items()
        )
        if biochar
        else ()
    )
    return Quality(
        lot=char.name,
        temperature=temperature,
        hydrogen_to_carbon=hydrogen,
        oxygen_to_carbon=oxygen,
        organic_carbon=shares["organic"],
        ash=shares["ash_in_char"],
        volatile_matter=shares["volatile"],
        fixed_carbon=shares["fixed"],
        biochar=biochar,
        extrapolated=char.temperature > method.fitted_to.mid,
        high_ash=shares["ash_in_char"].mid_value > 100 * standards.high_ash.mid,
        classes=classes,
    )


def _class(
    key: str,
    row: CharClass,
    hydrogen: Estimate,
    oxygen: Estimate,
    shares: dict[str, Estimate],
    tables: Tables,
    full: str,
) -> ClassForecast:
    """Each limit against the interval: kept at both ends, at the middle only, or not at the
    middle.
    """
    carbon = (
        shares["fixed"]
        if row.volatile_most is not None or key.startswith("en-")
        else shares["organic"]
    )
    named = "fixed carbon" if carbon is shares["fixed"] else "organic carbon"
    tests: list[tuple[str, Cell | None, float, float, float, bool, str]] = [
        (
            "H/C",
            row.hydrogen_most,
            hydrogen.low_value,
            hydrogen.mid_value,
            hydrogen.high_value,
            True,
            "",
        ),
        ("O/C", row.oxygen_most, oxygen.low_value, oxygen.mid_value, oxygen.high_value, True, ""),
        ("ash", row.ash_most, *_ends(shares["ash_in_char"]), True, " %"),
        ("volatile matter", row.volatile_most, *_ends(shares["volatile"]), True, " %"),
        (named, row.carbon_least, *_ends(carbon), False, " %"),
    ]
    worst, said, sources = 0, list[str](), list[Citation]()
    for name, cell, low, mid, high, most, unit in tests:
        if cell is None:
            continue
        limit = cell.mid * (100 if unit else 1)
        within = (high < limit, mid < limit) if most else (low >= limit, mid >= limit)
        worst = max(worst, 0 if within[0] else 1 if within[1] else 2)
        memory = " from memory" if cell.known == "memory" else ""
        said.append(
            f"{name} {low:.2g} to {high:.2g}{unit}, limit "
            f"{'below' if most else 'at least'} {limit:g}{unit}{memory}"
        )
        sources += cited(cell, tables, full.partition(":")[0])
    return ClassForecast(
        name=row.name,
        version=row.version,
        meets=("likely", "may", "not likely")[worst],
        why="; ".join(said),
        not_forecast=row.not_forecast,
        sources=tuple(dict.fromkeys(sources)),
    )


def _ends(share: Estimate) -> tuple[float, float, float]:
    return share.low_value, share.mid_value, share.high_value


def sort_char(signs: Sequence[str], tables: Tables | None = None) -> FieldSort:
    """Where pieces with these signs go: the most cautious of what the signs say.

    Raises UnknownName for a sign that is not known.
    """
    tables = tables if tables is not None else load_tables()
    full, method = tables.method("field-signs", FieldSigns)
    index = Index(
        {
            f":{key}": [name for names in each.names.values() for name in names]
            for key, each in method.signs.items()
        }
    )
    keys, problems = list[str](), list[Problem]()
    words = [each.names["en"][0] for each in method.signs.values()]
    for number, sign in enumerate([signs] if isinstance(signs, str) else signs):
        found = index.find(sign)
        if len(found) == 1:
            keys.append(found[0][1:])
        else:
            problems.append(
                Problem(
                    "unknown-sign",
                    f"'{shown(sign)}' is not a sign on char that is known here",
                    f"Write of: {', '.join(words)}.",
                    f"signs[{number}]",
                    nearest=nearest_names(sign, words),
                )
            )
    if problems:
        raise UnknownName(problems)
    if not keys:
        raise UnknownName(
            [Problem("empty", "no sign was given", f"Write of: {', '.join(words)}.", "signs")]
        )
    said = [method.signs[key] for key in dict.fromkeys(keys)]
    into = next(word for word in method.order if any(each.into == word for each in said))
    because = tuple(f"{each.names['en'][0]}: {each.meaning}" for each in said if each.into == into)
    others = tuple(
        f"{each.names['en'][0]}: {each.meaning} ({each.into})" for each in said if each.into != into
    )
    return FieldSort(
        into=into,
        because=because,
        others=others,
        always=method.always,
        sources=row_sources(method, tables, full),
    )


def row_sources(row: Sourced, tables: Tables, full: str) -> tuple[Citation, ...]:
    """The sources of a whole row."""
    if not row.source:
        words = {
            "practice": "common practice, no source",
            "judgement": "judgement of the maintainers",
        }
        return (
            Citation(
                text=words.get(str(row.known), "reference tables"),
                at=row.note if row.note != words.get(str(row.known)) else "",
                known=str(row.known),
            ),
        )
    return tuple(
        Citation(
            text=tables.source_title(key, full.partition(":")[0]), at=row.at, known=str(row.known)
        )
        for key in row.source
    )


def residual(name: str, sd: float, key: str, origin: Origin) -> Input:
    """An error of mean 0 with this standard deviation."""
    return Input(name, -P95 * sd, 0.0, P95 * sd, "linear", key, origin)
