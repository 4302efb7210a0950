"""What was forecast for a batch and what was measured of it, figure by figure, with the doubt that
batches can teach told apart.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from ..burn.graph import Graph
from ..burn.measures import has_measures
from ..burn.vessel import add_vessel
from ..errors import FeedstockError, InputError, Problem, UnknownName, shown
from ..lot.build import Setting, build_lot_model
from ..lot.experience import feed_class
from ..lot.model import LotModel
from ..lot.moisture import instrument
from ..model.experience import Experience, FigureName
from ..model.inputs.burn import Burn
from ..model.inputs.heap import place_of
from ..model.inputs.lot import Lot
from ..physics import moisture
from ..quantities.estimate import Estimate, bounded_estimate, scaled_estimate
from ..quantities.fields import Measured
from ..quantities.frozen import frozen
from ..tables.caches import kept_of_tables
from ..tables.names.index import Index
from ..tables.rows.burner import Burner
from ..tables.rows.methods.amount import Containers, Instruments
from ..tables.rows.methods.fire import BurningRate
from ..tables.rows.methods.learning import BatchRecords
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.graph import upstream
from ..uncertainty.intervals import Z95
from ..uncertainty.propagate import propagate
from ..uncertainty.sums import add
from ..words import Message
from .records import BatchRecord

UNITS: dict[FigureName, tuple[str, float]] = {
    "volume-per-feed": ("L", 1000.0),
    "mass-per-feed": ("kg", 1.0),
    "burning-rate": ("kg/m^2/min", 60.0),
}
"""The unit in which a figure of a batch is told, and the factor from SI."""

_READ = ("dry_mass", "char_mass", "char_volume")

OUTPUT_OF: dict[FigureName, str] = {"volume-per-feed": "char_volume", "mass-per-feed": "char_mass"}


@frozen
class Predicted:
    """The forecast of one figure of a batch. Variances are of its natural log.

    `learnable` is that of the char side (yield, char retention, shrinkage, packing; the burning
    rate), of which a part stays with person and burner; `rest` is that of the feed's own dry mass,
    which no char can teach. `feed` is "" where no class has the main share.
    """

    figure: UncertainValue
    burner: str
    feed: str
    learnable: float
    rest: float


@frozen
class Taken:
    """What was measured, in SI, and the variance of its log."""

    value: float
    variance: float
    low: float
    high: float


def spread(low: float, high: float) -> float:
    """Variance of the natural log of what has these ends of a 90 % interval."""
    return (math.log(high / low) / (2 * Z95)) ** 2


def spread_of(figure: UncertainValue) -> float:
    """The same of a figure; 0 where it has no width."""
    low, high = figure.ends
    return spread(low, high) if 0 < low < high else 0.0


@frozen
class Forecast:
    """Every figure that the tables (and own batches) give of a batch, and its dry feed."""

    dry: UncertainValue
    lightest: float
    figures: dict[FigureName, Predicted]
    notes: tuple[Message, ...]


@kept_of_tables(4096)
def forecast(
    lots: tuple[Lot, ...], burn: Burn, tables: Tables, experience: Experience | None = None
) -> Forecast:
    """The forecast of a burn of these lots.

    Raises FeedstockError as the appraisal does for what the tables do not know.
    """
    burner = tables.find("burners", burn.burner, "burn.burner")
    models = _models(lots, burn, tables, burner, experience)
    figures_of_lots = [
        propagate(model.chain, model.inputs, [name for name in _READ if model.gives(name)])
        for model in models
    ]
    dry = add(item["dry_mass"] for item in figures_of_lots)
    feed = _main_class(
        [
            (feed_class(tables, model.row), float(item["char_mass"].mid))
            for model, item in zip(models, figures_of_lots, strict=True)
        ],
        tables,
    )
    out: dict[FigureName, Predicted] = {}
    for name, output in OUTPUT_OF.items():
        if all(output in item for item in figures_of_lots):
            own = [
                _feed_keys(model, "dry_mass" if output == "char_mass" else model.volume_base)
                for model in models
            ]
            out[name] = _split(
                add(item[output] for item in figures_of_lots), set().union(*own), burner, feed
            )
    lightest = (
        out["mass-per-feed"].figure.ends[0] / out["volume-per-feed"].figure.ends[1]
        if "volume-per-feed" in out
        else 0.0
    )
    rate, notes = _rate(burn, tables, burner, dry, experience)
    return Forecast(dry, lightest, out | rate, notes)


def _models(
    lots: Sequence[Lot], burn: Burn, tables: Tables, burner: str, experience: Experience | None
) -> list[LotModel]:
    setting = Setting(tables, burner, burn, experience)
    models, problems = list[LotModel](), list[Problem]()
    kinds: set[type[FeedstockError]] = set()
    for index, lot in enumerate(lots):
        try:
            models.append(build_lot_model(lot, setting, f"lots[{index}]"))
        except FeedstockError as why:
            problems += why.problems
            kinds.add(type(why))
    if problems:
        raise (UnknownName if kinds == {UnknownName} else InputError)(list(dict.fromkeys(problems)))
    return models


def _main_class(parts: Iterable[tuple[str, float]], tables: Tables) -> str:
    """The class that gives the main share of the forecast char, or "" where none does."""
    total: dict[str, float] = {}
    for name, mass in parts:
        total[name] = total.get(name, 0.0) + mass
    name, most = max(total.items(), key=lambda item: item[1])
    return (
        name
        if most
        >= tables.method("batch-records", BatchRecords)[1].main_share.mid
        * math.fsum(total.values())
        else ""
    )


def _feed_keys(model: LotModel, base: str) -> set[str]:
    """Keys of the doubts behind the amount of feed: they belong to the heap, not to the fire."""
    behind = upstream(model.chain, base) | upstream(model.chain, "dry_mass")
    return {entry.key for entry in model.inputs if entry.name in behind}


def _split(figure: UncertainValue, feed_keys: set[str], burner: str, feed: str) -> Predicted:
    fire = UncertainValue(
        figure.mid,
        {key: doubt for key, doubt in figure.sensitivities.items() if key not in feed_keys},
        figure.scale,
    )
    rest = UncertainValue(
        figure.mid,
        {key: doubt for key, doubt in figure.sensitivities.items() if key in feed_keys},
        figure.scale,
    )
    return Predicted(figure, burner, feed, spread_of(fire), spread_of(rest))


def _rate(
    burn: Burn, tables: Tables, burner: str, dry: UncertainValue, experience: Experience | None
) -> tuple[dict[FigureName, Predicted], tuple[Message, ...]]:
    """Dry feed per rim area and time, as far as the rim is known and the fire is fed."""
    row = tables.row("burners", burner, Burner)
    _, method = tables.method("burning-rate", BurningRate)
    if (burn.firing or row.firing[0]) != "fed" or not has_measures(burn):
        return {}, (Message("experience.no-rate"),)
    graph = Graph(tables)
    try:
        add_vessel(graph, burn, row, burner)
    except InputError as why:
        return {}, (Message("experience.no-vessel", problem=str(why.problems[0])),)
    rate = row.burning or method.rate
    burning_fraction = method.burning_fraction if row.kept_small else None
    learnable = spread(rate.low, rate.high)
    rest = (
        spread(burning_fraction.low, burning_fraction.high) if burning_fraction is not None else 0.0
    )
    own = experience.of("burning-rate", burner) if experience is not None else None
    width = (own.variance + own.batch_variance if own is not None else learnable) + rest
    mid = (
        rate.mid
        * (burning_fraction.mid if burning_fraction is not None else 1.0)
        * math.exp(own.shift if own is not None else 0.0)
    )
    half = Z95 * math.sqrt(width)
    figure = UncertainValue(mid, {"rate": (mid * math.expm1(-half), mid * math.expm1(half))})
    rim = spread_of(graph.derive("rim")["rim"])
    return {
        "burning-rate": Predicted(figure, burner, "", learnable, rest + spread_of(dry) + rim)
    }, ()


# --- what was measured ----------------------------------------------------------------------------


def measured(record: BatchRecord, tables: Tables, predicted: Forecast) -> dict[FigureName, Taken]:
    """What a record says of each figure that was forecast.

    Raises InputError for what cannot be, with what to measure.
    """
    tools = tables.method("instruments", Instruments)[1]
    out: dict[FigureName, Taken] = {}
    char = record.char
    if char.volume is not None:
        out["volume-per-feed"] = _taken(char.volume, tools.volume.mid)
    elif char.containers is not None:
        out["volume-per-feed"] = _contained(record, tables)
    if char.mass is not None:
        out["mass-per-feed"] = _dried(record, tables, tools)
    _check_possible(record, out, predicted)
    if record.minutes is not None and "burning-rate" in predicted.figures:
        out["burning-rate"] = _burnt(record, tables, predicted)
    return {name: item for name, item in out.items() if name in predicted.figures}


def _taken(stated: Measured, error: float) -> Taken:
    if stated.low is not None and stated.high is not None and 0 < stated.low < stated.high:
        return Taken(stated.mid, spread(stated.low, stated.high), stated.low, stated.high)
    return Taken(stated.mid, (error / Z95) ** 2, stated.mid * (1 - error), stated.mid * (1 + error))


def _contained(record: BatchRecord, tables: Tables) -> Taken:
    containers = record.char.containers
    assert containers is not None
    row = tables.method("containers", Containers)[1]
    keys = Index({f":{key}": item.names for key, item in row.of.items()}).find(containers.of)
    if len(keys) != 1:
        raise UnknownName(
            [
                Problem(
                    "unknown-container",
                    f"there is no container '{shown(containers.of)}' in the tables",
                    "Fill it once with measured water and write volume: 60 L.",
                    "char.containers.of",
                )
            ]
        )
    cell = row.of[keys[0][1:]].volume
    return Taken(
        containers.count * cell.mid,
        spread(cell.low, cell.high),
        containers.count * cell.low,
        containers.count * cell.high,
    )


def _dried(record: BatchRecord, tables: Tables, tools: Instruments) -> Taken:
    """Dry mass of the char, by its stated moisture or by a dried sample."""
    char = record.char
    assert char.mass is not None
    scale = _taken(char.mass, tools.scale.mid)
    if char.sample is not None:
        wet = moisture.wet_from_weighing(char.sample.wet.mid, char.sample.oven_dry.mid)
        error = instrument(tables, "oven", "")[1].error.mid
        ends = [wet - error, wet + error]
    else:
        stated = char.moisture
        assert stated is not None
        wet = _wet(stated.mid, stated.basis)
        error = instrument(tables, "unknown", "")[1].error.mid
        ends = (
            [_wet(v, stated.basis) for v in (stated.low, stated.high)]
            if stated.low is not None and stated.high is not None
            else [wet - error, wet + error]
        )
    low, high = max(ends[0], 0.0), min(ends[1], tools.wettest_end.mid)
    dry = moisture.oven_dry_mass(char.mass.mid, wet)
    variance = scale.variance + (spread(1 - high, 1 - low) if high > low else 0.0)
    half = Z95 * math.sqrt(variance)
    return Taken(dry, variance, dry * math.exp(-half), dry * math.exp(half))


def _wet(value: float, basis: str) -> float:
    return value / (1 + value) if basis == "dry" else value


def _burnt(record: BatchRecord, tables: Tables, predicted: Forecast) -> Taken:
    burn, minutes = record.burn, record.minutes
    assert minutes is not None
    graph = Graph(tables)
    row_id = tables.find("burners", burn.burner)
    add_vessel(graph, burn, tables.row("burners", row_id, Burner), row_id)
    rim = float(graph.derive("rim")["rim"].mid)
    time = _taken(minutes, tables.method("batch-records", BatchRecords)[1].minutes_error.mid)
    value = predicted.dry.mid / (rim * time.value)
    half = Z95 * math.sqrt(time.variance)
    return Taken(value, time.variance, value * math.exp(-half), value * math.exp(half))


def _check_possible(
    record: BatchRecord, taken: dict[FigureName, Taken], predicted: Forecast
) -> None:
    """More dry char than dry feed cannot be; a volume is judged by the lightest char that the
    tables hold possible.
    """
    dry = float(predicted.dry.mid)
    mass, volume = taken.get("mass-per-feed"), taken.get("volume-per-feed")
    if mass is not None and mass.value >= dry:
        raise InputError(
            [
                Problem(
                    "impossible-yield",
                    f"{mass.value:.3g} kg of dry char from {dry:.3g} kg of dry feed: "
                    "no feed gives more char than it weighs",
                    "Dry a sample of the char and weigh it before and after; and look "
                    "whether all lots that were burnt are named, with their moisture.",
                    "char.mass",
                )
            ]
        )
    if volume is not None and predicted.lightest > 0 and volume.value * predicted.lightest >= dry:
        raise InputError(
            [
                Problem(
                    "impossible-yield",
                    f"{1000 * volume.value:.3g} L of char from {dry:.3g} kg of dry "
                    "feed: even the lightest char would weigh more than the feed",
                    "Measure the heaped volume of the sorted char again, in litres of "
                    "a bucket that was filled with measured water; and look whether "
                    "all lots are named.",
                    "char.volume",
                )
            ]
        )


def taken_estimate(name: FigureName, measurement: Taken) -> Estimate:
    """What was measured, in its public unit."""
    unit, factor = UNITS[name]
    return scaled_estimate(measurement.low, measurement.value, measurement.high, unit, factor)


def predicted_estimate(name: FigureName, prediction: Predicted) -> Estimate:
    """What was forecast, in its public unit."""
    unit, factor = UNITS[name]
    return bounded_estimate(prediction.figure.ends, prediction.figure.mid, unit, factor)


def placed(why: FeedstockError, record: BatchRecord, index: int) -> list[Problem]:
    """The problems of one record, each with its place in the file that it was read from."""
    document = place_of(record)
    out = []
    for problem in why.problems:
        path = tuple(
            int(part) if part.isdigit() else part
            for part in re.findall(r"[^.\[\]]+", problem.field)
        )
        place = document.place(path) if document is not None and problem.file is None else None
        field = ".".join(part for part in (f"batches[{index}]", problem.field) if part)
        out.append(
            replace(problem, field=field, file=document.file, line=place[0], column=place[1])
            if place and document is not None
            else replace(problem, field=field)
        )
    return out
