"""A lot judged: figures, elements, what was found, the verdict (the worst of what the findings
permit, and nothing else) and the scores; and the public results, lot by lot and in sum.
"""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Iterator, Mapping, Sequence
from functools import cache
from itertools import pairwise
from typing import Any

from ..lot.advice import best_measurement
from ..lot.elements import LotElements, Suspicions
from ..lot.model import ADDED, LOT_FIGURES, LotModel
from ..model.appraisal import ElementContent, LotAppraisal, Scores, Total
from ..model.drying import Drying
from ..model.findings import Finding, Verdict, worst
from ..quantities.data import trusted
from ..quantities.estimate import Estimate, figure_estimate
from ..quantities.frozen import FrozenMap, frozen
from ..quantities.units import as_wet
from ..tables.citations import cited
from ..tables.limits import Limits
from ..tables.rows.burner import Burner
from ..tables.rows.contaminant import Contaminant
from ..tables.rows.methods.char import WoodChar
from ..tables.rows.scales import ScaleRow
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.sums import Sums
from ..words import Message
from .elements import ash_finding, contents, element_findings, without_answered
from .hypotheses import contamination_findings
from .moisture import (
    drying_of,
    moisture_finding,
    rotted_finding,
    soil_finding,
    too_wet,
    unstated_moisture,
)
from .tables import taken_words
from .words import word_findings


@frozen
class JudgedLot:
    """A lot with all that is known of it; `bound` holds its elements as far as they were needed."""

    model: LotModel
    figures: Mapping[str, UncertainValue]
    bound: LotElements | None
    elements: tuple[ElementContent, ...]
    findings: tuple[Finding, ...]
    verdict: Verdict
    drying: Drying | None = None

    @property
    def name(self) -> str:
        return self.model.name


def judged(
    model: LotModel,
    figures: Mapping[str, UncertainValue],
    bound: LotElements | None,
    symbols: Collection[str],
    suspicions: Suspicions,
    burner_row: str,
    limits: Limits | None,
    tables: Tables,
) -> JudgedLot:
    """What the figures of a lot and the evidence on it come to; `symbols` are the elements on which
    something of this lot can depend.
    """
    elements: tuple[ElementContent, ...] = ()
    findings = [*contamination_findings(model.evidence, tables, model.name)]
    if bound is not None:
        suspect_site = any(
            tables.row("contaminants", row_id, Contaminant).background_decides
            for row_id, _ in suspicions
        )
        elements = contents(bound, symbols, model.row.accumulates, suspect_site, limits)
        of_elements = element_findings(elements, bound, limits, tables, model)
        findings += of_elements
        elements = without_answered(elements, of_elements)
    ash = ash_finding(model, tables)
    if ash is not None:
        findings.append(ash)
    if model.words.heard or model.words.unread:
        findings += word_findings(model.words, tuple(findings), tables, model.name)
    drying = _drying(model, figures, burner_row, tables)
    if tables.taken:
        findings += taken_words(model.evidence, tables, model.name)
    findings += _of_water_and_soil(model, figures, burner_row, tables, drying)
    findings.sort(key=_order)
    verdict = worst(findings)
    # how to dry what must not be burnt helps nobody
    advice = None if verdict is Verdict.KEEP_OUT else drying
    return JudgedLot(model, figures, bound, elements, tuple(findings), verdict, advice)


def _drying(
    model: LotModel, figures: Mapping[str, UncertainValue], burner_row: str, tables: Tables
) -> Drying | None:
    moisture = _certain(figures, "moisture")
    if not too_wet(moisture, burner_row, tables):
        return None
    ready = tables.row("burners", burner_row, Burner).moisture_ready
    return drying_of(model, moisture, as_wet(ready.mid, ready.basis), tables)


def _order(finding: Finding) -> tuple[int, bool, bool, str]:
    return (
        -finding.permits.position,
        finding.cleared,
        finding.axis != "contamination",
        finding.code,
    )


def _of_water_and_soil(
    model: LotModel,
    figures: Mapping[str, UncertainValue],
    burner_row: str,
    tables: Tables,
    drying: Drying | None,
) -> Iterator[Finding]:
    moisture = _certain(figures, "moisture")
    wet = moisture_finding(moisture, burner_row, tables, model.name, drying, model.lies)
    if wet is not None:
        yield wet
    if model.moisture_known == "unknown":
        first = next(iter(model.row.moisture.values()))
        where = tables.where("materials", model.row_id, ("moisture",)).set
        yield unstated_moisture(
            model.name, model.row.called(model.lot.material), cited(first, tables, where)
        )
    for finding in (_soil(model, tables), _rotted(model, tables)):
        if finding is not None:
            yield finding


def _soil(model: LotModel, tables: Tables) -> Finding | None:
    limit, stated = tables.defaults[1].ash_warning, model.lot.soil
    if not model.row.clean and (stated is None or stated.mid <= limit.mid):
        return None
    ash = 100 * (model.middle("ash") + (model.middle("soil") if model.gives("soil") else 0.0))
    if ash <= 100 * limit.mid:
        return None
    return soil_finding(model.name, ash, 100 * limit.mid, cited(limit, tables, "reference"))


def _rotted(model: LotModel, tables: Tables) -> Finding | None:
    """Told of wood whose char falls to crumbs, and of rotted wood of no stated class."""
    row_id, char = tables.method("wood-char", WoodChar)
    decay = model.lot.decay
    if decay is None and "rotted" in model.row.traits:
        evidence = Message("evidence.material", what=model.row.called(model.lot.material))
    elif decay is not None and model.row.woody and decay >= char.crumbles_from.mid:
        evidence = Message("evidence.decay", decay=decay)
    else:
        return None
    source = cited(char.crumbles_from, tables, row_id.partition(":")[0])
    return rotted_finding(model.name, evidence, source)


def _estimate(figures: Mapping[str, UncertainValue], name: str) -> Estimate | None:
    about = LOT_FIGURES[name]
    if about.output not in figures:
        return None
    return figure_estimate(figures[about.output], about.unit, about.factor)


def _certain(figures: Mapping[str, UncertainValue], name: str) -> Estimate:
    estimate = _estimate(figures, name)
    assert estimate is not None
    return estimate


def lot_result(lot: JudgedLot, tables: Tables) -> LotAppraisal:
    """The public result of a lot; of one that is to be kept out no char is told."""
    model, figures, out = lot.model, lot.figures, lot.verdict is Verdict.KEEP_OUT
    shown: dict[str, Any] = {
        name: None if out and about.of_char else _estimate(figures, name)
        for name, about in LOT_FIGURES.items()
    }
    density = shown["density"]
    return trusted(LotAppraisal)(
        name=model.name,
        material=model.row.display(model.row_id.partition(":")[2]),
        row=model.row_id,
        scores=scores(
            tables,
            shown["moisture"].mid_value,
            density.mid_value if density else None,
            0.0 if out else 100 * figures["carbon_kept"].mid,
            lot.findings,
            lot.verdict,
        ),
        **shown,
        drying=lot.drying,
        findings=lot.findings,
        notes=model.notes,
        read_as=model.read_as,
        elements=lot.elements,
    )


def heap_sums(lots: Sequence[JudgedLot], burnt: Container[str] = ()) -> dict[str, Any]:
    """The public sums over all lots that are not to be kept out, over those that are ready, and by
    verdict; of what is to be kept out no char is told. `burnt` are the lots that a plan feeds.
    """
    sums = Sums([lot.figures for lot in lots])

    @cache
    def total(chosen: tuple[int, ...], name: str) -> Estimate:
        about = LOT_FIGURES[name]
        return figure_estimate(sums.of(chosen, about.output), about.unit, about.factor)

    def together(chosen: tuple[int, ...], names: Iterable[str]) -> Total:
        return trusted(Total)(
            lots=tuple(lots[index].name for index in chosen),
            **{name: total(chosen, name) for name in names},
        )

    of = {
        verdict: tuple(index for index, lot in enumerate(lots) if lot.verdict is verdict)
        for verdict in Verdict
    }
    ready = of[Verdict.READY]
    fed = tuple(index for index in ready if lots[index].name in burnt)
    char = tuple(index for index, lot in enumerate(lots) if lot.verdict is not Verdict.KEEP_OUT)
    return {
        **{name: total(char, name) for name in ADDED},
        "char_mass_ready": total(ready, "char_mass"),
        "char_volume_ready": total(ready, "char_volume"),
        "advice": best_measurement(
            [lots[index].model for index in ready or char],
            sums.of(ready or char, LOT_FIGURES["char_volume"].output),
        ),
        "goes_in": together(fed, ADDED) if fed else None,
        "by_verdict": FrozenMap(
            {
                verdict: together(
                    chosen, ADDED if verdict is not Verdict.KEEP_OUT else ("dry_mass",)
                )
                for verdict, chosen in of.items()
                if chosen
            }
        ),
    }


STEP = 5


def on_scale(row: ScaleRow, value: float) -> float:
    """Piecewise linear between the points, flat outside them."""
    points = row.points
    if value <= points[0].at:
        return points[0].score
    for left, right in pairwise(points):
        if value <= right.at:
            return left.score + (right.score - left.score) * (value - left.at) / (
                right.at - left.at
            )
    return points[-1].score


def scale(tables: Tables, name: str) -> ScaleRow:
    """The scale of that name. Raises UnknownName where no table has it."""
    return tables.row("scales", tables.find("scales", name), ScaleRow)


def rounded(score: float) -> float:
    """To the nearest 5, the finest step that such a score bears."""
    return float(STEP * round(score / STEP))


def scores(
    tables: Tables,
    moisture: float,
    density: float | None,
    carbon_kept: float,
    findings: Iterable[Finding],
    verdict: Verdict,
) -> Scores:
    """Scores of a lot from moisture (% wet), density (kg/m3), carbon kept (% of dry feed), its
    findings and its verdict.

    `suitability` is the weighted geometric mean of the others, cut off at the ceiling of the gate.
    """
    doubt = 1.0
    for finding in findings:
        if finding.axis in ("contamination", "handling") and not finding.cleared:
            doubt *= 1 - on_scale(scale(tables, "suspicion"), finding.permits.position) / 100
    parts = {
        "moisture": on_scale(scale(tables, "moisture"), moisture),
        "density": None if density is None else on_scale(scale(tables, "density"), density),
        "contamination": on_scale(scale(tables, "contamination"), 100 * (1 - doubt)),
        "char": on_scale(scale(tables, "char"), carbon_kept),
    }
    total = weight = 0.0
    product = 1.0
    for name, score in parts.items():
        if score is not None:
            weight = scale(tables, name).weight
            total += weight
            product *= (score / 100) ** weight
    mean = 100 * product ** (1 / total) if total else 0.0
    ceiling = on_scale(scale(tables, "gate"), verdict.position)
    # rounded down at the ceiling, so that a rounded score cannot pass its gate either
    suitability = min(rounded(mean), STEP * (ceiling // STEP))
    return trusted(Scores)(
        moisture=rounded(parts["moisture"] or 0.0),
        density=None if parts["density"] is None else rounded(parts["density"]),
        contamination=rounded(parts["contamination"] or 0.0),
        char=rounded(parts["char"] or 0.0),
        suitability=suitability,
    )
