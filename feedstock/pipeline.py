"""The calls that need more than one room: a heap in, an appraisal out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from .assessment.cautions import cautions_for
from .assessment.elements import ash_finding, contents, element_findings, mixed_result
from .assessment.hypotheses import contamination_findings, suspected
from .assessment.moisture import moisture_finding, soil_finding, unstated_moisture
from .assessment.scores import scores
from .assessment.verdict import verdict_of
from .burn.fuel import Fuel
from .burn.gather import CONFIDENCE, gather_from, read_target
from .burn.plan import plan_of
from .documents.problems import _placed
from .errors import FeedstockError, InputError, Problem, UnknownName
from .lot.builder import Bound
from .lot.elements import Loaded, bind_elements
from .lot.evidence import Evidence, evidence_of, unknown_burn_words
from .lot.figures import ADDED, FIGURES
from .lot.model import bind
from .model.appraisal import Appraisal, ElementContent, Inputs, LotAppraisal, TableUse, Total
from .model.burn_plan import Gathering
from .model.experience import Experience, own_batches
from .model.findings import Finding, Verdict
from .model.inputs.burn import Burn
from .model.inputs.heap import Heap, place_of
from .model.inputs.lot import Lot
from .quantities.cell import Cell
from .quantities.estimate import Estimate
from .tables.citations import Citation, cited
from .tables.limits import Limits, limits_in_use
from .tables.loading.load import load_tables
from .tables.rows.burner import Burner
from .tables.rows.contaminant import Contaminant
from .tables.tables import Tables
from .uncertainty.estimates import figure_estimate as estimate_of
from .uncertainty.figure import Figure
from .uncertainty.graph import run
from .uncertainty.propagate import figures
from .uncertainty.sums import add


@dataclass(slots=True)
class _Lot:
    """A lot on its way: bound, run and judged."""

    lot: Lot
    name: str
    full: str
    bound: Bound
    figures: dict[str, Figure]
    evidence: Evidence
    findings: tuple[Finding, ...] = ()
    verdict: Verdict = Verdict.READY
    loaded: Loaded | None = None
    elements: tuple[ElementContent, ...] = ()


def appraise(
    heap: Heap,
    burn: Burn | None = None,
    tables: Tables | None = None,
    limits: str | None = None,
    experience: Experience | None = None,
) -> Appraisal:
    """Appraise a heap: for each lot whether it is fit, why, and how much char it will give, each
    figure a 90 % interval.

    Without `burn` a generic open flame-fed pit is assumed, and said. Without `tables` the reference
    tables and those of installed packages are used. `experience` corrects char and burning rate by
    what own batches taught; the gates of contamination are judged without it. The same input and
    tables give the same output. Raises FeedstockError (InputError, UnknownName, TableError) with
    all problems.
    """
    _check_types(heap, burn, tables, limits, experience)
    try:
        return _appraise(
            heap, burn, tables if tables is not None else load_tables(), limits, experience
        )
    except FeedstockError as why:
        raise _placed(why, place_of(heap)) from None


def _check_types(
    heap: object, burn: object, tables: object, limits: object = None, experience: object = None
) -> None:
    """A slip in a program deserves a sentence as much as one in a file."""
    wrong = []
    for field, value, model, remedy in (
        ("heap", heap, Heap, "Give a Heap: Heap(lots=[Lot(...)]), or Heap.read(path)."),
        ("burn", burn, Burn, "Give a Burn: Burn(burner='pit')."),
        ("tables", tables, Tables, "Give what load_tables(path or dict) returns."),
        ("limits", limits, str, "Give the name of a set of limits, for instance 'EBC-Agro'."),
        (
            "experience",
            experience,
            Experience,
            "Give what learn(...) returns, or Experience.read(path).",
        ),
    ):
        if not isinstance(value, model) and not (value is None and field != "heap"):
            wrong.append(
                Problem(
                    "wrong-type", f"a {type(value).__name__} was given as {field}", remedy, field
                )
            )
    if wrong:
        raise InputError(wrong)


def appraise_lot(
    lot: Lot,
    burn: Burn | None = None,
    tables: Tables | None = None,
    limits: str | None = None,
    experience: Experience | None = None,
) -> LotAppraisal:
    """One lot alone, equal to the same lot in a heap. Raises as `appraise` does."""
    if not isinstance(lot, Lot):
        raise InputError(
            [
                Problem(
                    "wrong-type",
                    f"a {type(lot).__name__} was given as lot",
                    "Give a Lot: Lot(material='oak', mass='20 kg').",
                    "lot",
                )
            ]
        )
    return appraise(Heap(lots=[lot]), burn, tables, limits, experience).lots[0]


def gather(
    target: Any,
    heap: Heap,
    burn: Burn | None = None,
    tables: Tables | None = None,
    limits: str | None = None,
    *,
    experience: Experience | None = None,
    confidence: float = CONFIDENCE,
    whole_loads: bool = False,
) -> Gathering:
    """What to take from a heap for a wanted amount of char (`60 L`, `8 kg`, `5 kg carbon`) with a
    stated confidence.

    Only lots that are ready are taken, those with the fewest doubts and the driest first, in whole
    loads of the burn if asked. `Gathering.heap` gives the target back when it is appraised with the
    same burn and `experience`. Raises FeedstockError as `appraise` does.
    """
    wanted = read_target(target)
    tables = tables if tables is not None else load_tables()
    found = appraise(heap, burn, tables, limits, experience)
    try:
        return gather_from(
            wanted,
            _fuels_of(found, tables),
            heap,
            burn,
            tables,
            _burner(burn, tables)[0],
            confidence,
            whole_loads,
        )
    except FeedstockError as why:
        raise _placed(why, place_of(heap)) from None


def _fuel(
    name: str,
    lot: Lot,
    full: str,
    bound: Bound,
    verdict: Verdict,
    findings: Iterable[Finding],
    tables: Tables,
) -> Fuel:
    row = tables.material(full)
    concerns = sum(
        2 - each.cleared for each in findings if each.axis in ("contamination", "handling")
    )
    return Fuel(name, lot, full, bound, verdict, row.class_ or "", row.form or "", concerns)


def _fuels_of(appraisal: Appraisal, tables: Tables) -> list[Fuel]:
    burn = appraisal.inputs.burn
    burner_row, _ = _burner(burn, tables)
    return [
        _fuel(
            result.name,
            lot,
            result.row,
            bind(
                lot,
                result.row,
                tables,
                burner_row,
                burn,
                f"lots[{index}]",
                appraisal.inputs.experience,
            ),
            result.verdict,
            result.findings,
            tables,
        )
        for index, (lot, result) in enumerate(
            zip(appraisal.inputs.heap.lots, appraisal.lots, strict=True)
        )
    ]


def _appraise(
    heap: Heap, burn: Burn | None, tables: Tables, limits: str | None, experience: Experience | None
) -> Appraisal:
    try:
        burner_row, notes = _burner(burn, tables)
        limit_set = limits_in_use(tables, limits)
    except InputError as why:
        raise _with_those_of_lots(why, heap, tables) from None
    lots = _bound_lots(heap, burn, tables, burner_row, experience)
    for each in lots:
        _load(each, limit_set, tables)
        each.findings = _findings(each, tables, burner_row, limit_set)
        each.verdict = verdict_of(each.findings)
    general = _table_findings(tables)
    verdict = max(each.verdict for each in lots)
    mixed = mixed_result(
        max(verdict, verdict_of(general)),
        [each.loaded for each in lots if each.loaded is not None],
        [each.elements for each in lots],
        limit_set,
        tables,
    )
    cautions = cautions_for(burner_row, burn, [each.evidence for each in lots], tables)
    notes += [f"{each.name}: {note}" for each in lots for note in each.bound.notes] + _unit_notes(
        heap, burn
    )
    plan, plan_notes = plan_of(
        [
            _fuel(each.name, each.lot, each.full, each.bound, each.verdict, each.findings, tables)
            for each in lots
        ],
        burn,
        tables,
        burner_row,
        cautions,
    )
    notes += plan_notes + own_batches(experience, burner_row)
    char_lots = [each for each in lots if each.verdict is not Verdict.KEEP_OUT]
    ready = [each for each in lots if each.verdict is Verdict.READY]
    total = _Totals()
    found = Appraisal(
        burner=tables.row("burners", burner_row, Burner).display(burner_row.partition(":")[2]),
        lots=tuple(_lot_result(each, tables) for each in lots),
        dry_mass=total(char_lots, "dry_mass"),
        char_mass=total(char_lots, "char_mass"),
        char_volume=total(char_lots, "char_volume"),
        char_carbon=total(char_lots, "char_carbon"),
        char_mass_ready=total(ready, "char_mass"),
        char_volume_ready=total(ready, "char_volume"),
        by_verdict={
            v: _by_verdict(v, lots, total)
            for v in Verdict
            if any(each.verdict is v for each in lots)
        },
        verdict=verdict,
        verdict_mixed=mixed.verdict,
        mixed=mixed,
        findings=(*general, *(f for each in lots for f in each.findings)),
        cautions=cautions,
        burn=plan,
        inputs=Inputs(
            heap=heap,
            burn=burn,
            limits=limits,
            methods=dict(tables.use),
            notes=tuple(dict.fromkeys(notes)),
            experience=experience,
        ),
        tables=tuple(
            TableUse(name=s.name, version=s.version, digest=s.digest) for s in tables.sets
        ),
        digest=tables.digest,
    )
    found.__dict__["_tables"] = tables
    return found


def _with_those_of_lots(why: FeedstockError, heap: Heap, tables: Tables) -> FeedstockError:
    """What is wrong with the burn or the limits, and what is wrong with the lots in any burn: all
    is told at once.
    """
    try:
        _bound_lots(heap, None, tables, _burner(None, tables)[0])
    except FeedstockError as lots:
        kind = (
            UnknownName
            if isinstance(why, UnknownName) and isinstance(lots, UnknownName)
            else InputError
        )
        return kind((*why.problems, *lots.problems), why.left_out + lots.left_out)
    return why


def _burner(burn: Burn | None, tables: Tables) -> tuple[str, list[str]]:
    if burn is not None:
        full = tables.find("burners", burn.burner, "burn.burner")
        unknown = unknown_burn_words(burn, tables)
        if unknown:
            raise UnknownName(unknown)
        row = tables.row("burners", full, Burner)
        if burn.firing is not None and burn.firing not in row.firing:
            raise InputError(
                [
                    Problem(
                        "unknown-word",
                        f"{row.display(burn.burner)} is not fired {burn.firing}",
                        f"Write one of {', '.join(row.firing)}.",
                        "burn.firing",
                    )
                ]
            )
        if burn.heaped is not None and (burn.firing or row.firing[0]) == "fed":
            raise InputError(
                [
                    Problem(
                        "not-needed",
                        "a burn that is fed in layers has no heaped load",
                        "Leave heaped out, or write firing: top-lit.",
                        "burn.heaped",
                    )
                ]
            )
        return full, []
    full = tables.find("burners", tables.defaults[1].burner, "methods.defaults.burner")
    name = tables.row("burners", full, Burner).display(full)
    return full, [f"no burn was named: a generic open flame-fed pit was assumed ({name})"]


def lot_names(heap: Heap) -> list[str]:
    """The names of the lots: given, else the material, numbered where several would be the same."""
    given = {lot.name.casefold() for lot in heap.lots if lot.name is not None}
    plain = [lot.material.casefold() for lot in heap.lots if lot.name is None]
    out: list[str] = []
    count: dict[str, int] = {}
    for lot in heap.lots:
        if lot.name is not None:
            out.append(lot.name)
            continue
        key = lot.material.casefold()
        if plain.count(key) == 1 and key not in given:
            out.append(lot.material)
            continue
        count[key] = count.get(key, 0) + 1
        while f"{key} {count[key]}" in given:
            count[key] += 1
        out.append(f"{lot.material} {count[key]}")
    return out


def _bound_lots(
    heap: Heap,
    burn: Burn | None,
    tables: Tables,
    burner_row: str,
    experience: Experience | None = None,
) -> list[_Lot]:
    problems: list[Problem] = []
    kinds: set[type[FeedstockError]] = set()
    lots: list[_Lot] = []
    for index, (lot, name) in enumerate(zip(heap.lots, lot_names(heap), strict=True)):
        path = f"lots[{index}]"
        try:
            evidence = evidence_of(lot, burn, tables, path)
            bound = bind(lot, evidence.material, tables, burner_row, burn, path, experience)
            wanted = [*(FIGURES[f].output for f in bound.figures), "carbon_kept"]
            lots.append(
                _Lot(
                    lot,
                    name,
                    evidence.material,
                    bound,
                    figures(bound.chain, bound.inputs, wanted),
                    evidence,
                )
            )
        except FeedstockError as why:
            problems.extend(why.problems)
            kinds.add(type(why))
    if problems:
        raise (UnknownName if kinds == {UnknownName} else InputError)(list(dict.fromkeys(problems)))
    return lots


def _estimate(each: _Lot, name: str) -> Estimate | None:
    about = FIGURES[name]
    return (
        estimate_of(each.figures[about.output], about.unit, about.factor)
        if name in each.bound.figures
        else None
    )


def _sure(each: _Lot, name: str) -> Estimate:
    found = _estimate(each, name)
    assert found is not None
    return found


class _Totals:
    """Sums of figures over lots.

    The same lots are asked for more than once, as all and as those of one verdict, and added once.
    """

    def __init__(self) -> None:
        self._known: dict[tuple[str, tuple[int, ...]], Estimate] = {}

    def __call__(self, lots: Sequence[_Lot], name: str) -> Estimate:
        about, key = FIGURES[name], (name, tuple(map(id, lots)))
        if key not in self._known:
            self._known[key] = estimate_of(
                add(each.figures[about.output] for each in lots if name in each.bound.figures),
                about.unit,
                about.factor,
            )
        return self._known[key]


def _by_verdict(verdict: Verdict, lots: Sequence[_Lot], total: _Totals) -> Total:
    mine = [each for each in lots if each.verdict is verdict]
    names = tuple(each.name for each in mine)
    if verdict is Verdict.KEEP_OUT:
        return Total(lots=names, dry_mass=total(mine, "dry_mass"))
    return Total(lots=names, **{name: total(mine, name) for name in ADDED})


def _load(each: _Lot, limits: Limits | None, tables: Tables) -> None:
    """The elements of a lot: what its suspicions bring and what is there by nature."""
    doubts = suspected(each.evidence, tables)
    bound = each.bound.before or each.bound
    each.loaded = bind_elements(
        each.lot, each.full, bound.chain, bound.inputs, doubts, limits, tables
    )
    if each.loaded is not None:
        suspect_site = any(
            tables.row("contaminants", full, Contaminant).background_decides for full, _ in doubts
        )
        each.elements = contents(
            each.loaded, tables.material(each.full).accumulates, suspect_site, limits
        )


def _element_findings(each: _Lot, tables: Tables, limits: Limits | None) -> Iterator[Finding]:
    if each.loaded is None:
        return
    yield from element_findings(each.elements, each.loaded, limits, tables, each.name)
    ash = tables.material(each.full).ash
    if ash is not None:
        where = tables.where("materials", each.full, ("ash",)).set
        high = ash_finding(
            each.loaded.figures["ash_in_char"], cited(ash, tables, where), tables, each.name
        )
        if high is not None:
            yield high


def _findings(
    each: _Lot, tables: Tables, burner_row: str, limits: Limits | None
) -> tuple[Finding, ...]:
    found = [
        *contamination_findings(each.evidence, tables, each.name),
        *_element_findings(each, tables, limits),
    ]
    high_over = tables.defaults[1].high_over.mid
    wet = moisture_finding(
        _sure(each, "moisture"),
        burner_row,
        tables,
        each.name,
        high_over,
        _sure(each, "water_to_lose"),
    )
    if wet is not None:
        found.append(wet)
    if each.bound.moisture_known == "unknown":
        cells = tables.material(each.full).moisture
        first = next(iter(cells.values()))
        where = tables.where("materials", each.full, ("moisture",)).set
        found.append(
            unstated_moisture(
                each.name,
                tables.material(each.full).display(each.lot.material),
                cited(first, tables, where),
            )
        )
    soil = _soil(each, tables)
    if soil is not None:
        found.append(soil)
    return tuple(
        sorted(
            found, key=lambda f: (-f.permits.position, f.cleared, f.axis != "contamination", f.code)
        )
    )


def _soil(each: _Lot, tables: Tables) -> Finding | None:
    row = tables.material(each.full)
    said = each.lot.soil
    if row.class_ not in ("hardwood", "softwood") and (
        said is None or said.mid <= tables.defaults[1].ash_warning.mid
    ):
        return None
    values = run(each.bound.chain, {i.name: i.mid for i in each.bound.inputs})
    ash = 100 * (values["ash"] + values.get("soil", 0.0))
    limit_cell: Cell = tables.defaults[1].ash_warning
    if ash <= 100 * limit_cell.mid:
        return None
    return soil_finding(
        each.name, ash, 100 * limit_cell.mid, cited(limit_cell, tables, "reference")
    )


def _lot_result(each: _Lot, tables: Tables) -> LotAppraisal:
    out = each.verdict is Verdict.KEEP_OUT
    density = _estimate(each, "density")
    carbon = 0.0 if out else 100 * each.figures["carbon_kept"].mid
    char = {
        name: None if out else _estimate(each, name)
        for name in ("char_yield", "char_mass", "char_volume", "char_carbon")
    }
    return LotAppraisal(
        name=each.name,
        material=tables.material(each.full).display(each.full.partition(":")[2]),
        row=each.full,
        verdict=each.verdict,
        scores=scores(
            tables,
            _sure(each, "moisture").mid_value,
            density.mid_value if density else None,
            carbon,
            each.findings,
            each.verdict,
        ),
        moisture=_sure(each, "moisture"),
        moisture_dry=_sure(each, "moisture_dry"),
        density=density,
        dry_mass=_sure(each, "dry_mass"),
        **char,
        water_to_lose=_sure(each, "water_to_lose"),
        water_heat=_estimate(each, "water_heat"),
        findings=each.findings,
        notes=each.bound.notes,
        elements=each.elements,
    )


def _table_findings(tables: Tables) -> tuple[Finding, ...]:
    """What is to be said of the tables themselves: packages that did not load, gates that a set
    made easier.
    """
    found = [
        Finding(
            code="tables-broken",
            axis="tables",
            reason=f"A table package could not be loaded: {problem}",
            action="Mend or uninstall it; nothing of it was used.",
            permits=Verdict.READY,
            sources=(Citation(text=problem.file or "installed packages"),),
        )
        for problem in tables.broken
    ]
    found += [
        Finding(
            code="gate-loosened",
            axis="tables",
            reason=f"The table set '{each.set}' made {each.row} easier to pass: {each.reason}",
            action="Leave that set out if you do not agree.",
            permits=Verdict.READY,
            sources=(Citation(text=f"table set {each.set}"),),
        )
        for each in tables.loosened
    ]
    return tuple(found)


def _unit_notes(heap: Heap, burn: Burn | None) -> list[str]:
    """How doubtful words were read, wherever a text stands."""
    from pydantic import BaseModel

    from .quantities.fields import Measured

    notes: list[str] = []

    def look(value: object) -> None:
        if isinstance(value, Measured):
            if value.note:
                notes.append(value.note)
        elif isinstance(value, BaseModel):
            for name in type(value).model_fields:
                look(getattr(value, name))
        elif isinstance(value, tuple):
            for part in value:
                look(part)

    look(heap)
    if burn is not None:
        look(burn)
    return notes


def methods_in_use(tables: Tables) -> Mapping[str, str]:
    """Which method row serves which purpose."""
    return {**tables.defaults[1].use, **dict(tables.use)}
