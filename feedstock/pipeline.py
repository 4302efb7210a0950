"""The calls that need more than one room: a heap in, an appraisal out. What plans a burn is loaded
when a burn is planned.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import replace
from typing import Any

from .assessment.cautions import cautions_for, of_the_burnt
from .assessment.elements import mixed_result
from .assessment.hypotheses import suspected
from .assessment.tables import limit_findings, table_findings
from .assessment.verdict import JudgedLot, heap_sums, judged, lot_result
from .burn.burner import burner_of
from .burn.fuel import Fuel, concerns_of, fuel_outputs
from .burn.measures import bare, has_measures
from .burn.target import CONFIDENCE, read_target
from .documents.problems import placed
from .errors import FeedstockError, InputError, Problem, UnknownName
from .lot.build import Setting, build_lot_model
from .lot.elements import LotElements, bind_elements, decisive, outputs_of
from .lot.experience import batches_told
from .lot.model import LOT_FIGURES, LotModel, lot_marks
from .lot.words import heap_texts, unit_notes
from .model.appraisal import Appraisal, Inputs, LotAppraisal, Mixed, TableUse
from .model.burn_plan import BurnPlan, Gathering, Sizing
from .model.experience import Experience
from .model.findings import Verdict, worst
from .model.inputs.burn import Burn
from .model.inputs.heap import Heap, Job, lot_names, place_of
from .model.inputs.lot import Lot
from .quantities.data import trusted
from .quantities.frozen import FrozenMap
from .tables.limits import Limits, limits_in_use
from .tables.loading.load import load_tables
from .tables.rows.burner import Burner
from .tables.tables import Tables
from .uncertainty.figure import UncertainValue
from .uncertainty.propagate import propagate
from .words import Message


def _planned(setting: Setting) -> bool:
    """Whether there will be a plan, which reads more of a lot than its appraisal does."""
    if not has_measures(setting.burn):
        return False
    from .burn.plan import can_plan

    return can_plan(setting.tables)


def appraise(
    heap: Heap | Job,
    burn: Burn | None = None,
    tables: Tables | None = None,
    limits: str | None = None,
    experience: Experience | None = None,
) -> Appraisal:
    """Appraise a heap: for each lot whether it is fit, why, and how much char it will give, each
    figure a 90 % interval.

    Without `burn` a generic open flame-fed pit is assumed, and said. Without `tables` the reference
    tables and those of installed packages are used. `experience` corrects char and burning rate by
    what own batches taught; the gates of contamination are judged without it. A `Job` brings its
    own burn and limits, which count where none are given; table files that it names are not read.
    The same input and tables give the same output. Raises FeedstockError (InputError, UnknownName,
    TableError) with all problems.
    """
    heap, burn, limits = _of_job(heap, burn, limits)
    _check_types(heap, burn, tables, limits, experience)
    try:
        return _appraised(
            heap, burn, tables if tables is not None else load_tables(), limits, experience
        )[0]
    except FeedstockError as why:
        raise placed(why, place_of(heap)) from None


def _of_job(
    heap: Heap | Job, burn: Burn | None, limits: str | None
) -> tuple[Heap, Burn | None, str | None]:
    """The heap of a job, with its burn and limits where none are given."""
    if not isinstance(heap, Job):
        return heap, burn, limits
    return heap.heap, heap.burn if burn is None else burn, heap.limits if limits is None else limits


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
    heap: Heap | Job,
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
    from .burn.gather import gather_from

    wanted = read_target(target)
    tables = tables if tables is not None else load_tables()
    heap, burn, limits = _of_job(heap, burn, limits)
    _check_types(heap, burn, tables, limits, experience)
    try:
        _, lots, setting = _appraised(heap, burn, tables, limits, experience)
        fuels = [_fuel(lot, setting) for lot in lots]
        row = setting.burner_row
        return gather_from(wanted, fuels, heap, burn, tables, row, confidence, whole_loads)
    except FeedstockError as why:
        raise placed(why, place_of(heap)) from None


def size(
    heap: Heap,
    burner: str | Burn = "cone pit",
    loads: int = 1,
    tables: Tables | None = None,
    limits: str | None = None,
    *,
    experience: Experience | None = None,
) -> Sizing:
    """How wide and deep a vessel is to be for the ready lots of a heap in so many loads.

    `burner` is a name of the tables, or a Burn that says more (firing, duration, hose); measures in
    it count for nothing. A plan for `Sizing.burn` takes the heap in that many loads. Raises
    FeedstockError as `appraise` does.
    """
    from .burn.size import burn_with, size_from

    burn = burn_with(burner)
    tables = tables if tables is not None else load_tables()
    _check_types(heap, burn, tables, limits, experience)
    try:
        _, lots, setting = _appraised(heap, bare(burn), tables, limits, experience)
        fuels = [_fuel(lot, setting) for lot in lots]
        row = setting.burner_row
        cautions = cautions_for(row, burn, of_the_burnt(lots), tables)
        return size_from(fuels, burn, loads, tables, row, cautions)
    except FeedstockError as why:
        raise placed(why, place_of(heap)) from None


def _fuel(lot: JudgedLot, setting: Setting) -> Fuel:
    """A judged lot for a plan; what a plan reads beyond the appraisal is run where it was not."""
    wanted, figures = fuel_outputs(lot.model), lot.figures
    if any(name not in figures for name in wanted):
        figures = propagate(lot.model.chain, lot.model.inputs, wanted)
    return Fuel(lot.model, lot.verdict, concerns_of(lot.findings), figures)


def _appraised(
    heap: Heap, burn: Burn | None, tables: Tables, limits: str | None, experience: Experience | None
) -> tuple[Appraisal, list[JudgedLot], Setting]:
    try:
        burner_row, notes = burner_of(burn, tables)
        limit_set = limits_in_use(tables, limits)
    except InputError as why:
        raise _with_those_of_lots(why, heap, tables) from None
    setting = Setting(tables, burner_row, burn, experience)
    lots = _judged_lots(lot_models(heap, setting), setting, limit_set)
    cautions = cautions_for(burner_row, burn, of_the_burnt(lots), tables)
    notes += [
        Message("heap.of-lot", lot=lot.name, note=note) for lot in lots for note in lot.model.notes
    ]
    notes += unit_notes(heap, burn)
    fuels = [_fuel(lot, setting) for lot in lots] if _planned(setting) else []
    plan = None
    if burn is not None:
        from .burn.plan import plan_of

        plan, plan_notes = plan_of(fuels, burn, tables, burner_row, cautions)
        notes += plan_notes
    if experience is not None:
        rows = [lot.model.row for lot in lots]
        notes += batches_told(experience, tables, burner_row, rows)
    general = table_findings(tables) if tables.broken or tables.loosened else ()
    general += limit_findings(limit_set, tables) if limits is not None else ()
    appraisal = trusted(Appraisal)(
        burner=tables.row("burners", burner_row, Burner).display(burner_row.partition(":")[2]),
        lots=tuple(lot_result(lot, tables) for lot in lots),
        **heap_sums(lots, _burnt(plan)),
        **_mixture(lots, worst(general), limit_set, tables),
        findings=(*general, *(finding for lot in lots for finding in lot.findings)),
        cautions=cautions,
        burn=plan,
        inputs=trusted(Inputs)(
            heap=heap,
            burn=burn,
            limits=limits,
            methods=FrozenMap(dict(tables.use)),
            notes=tuple(dict.fromkeys(notes)),
            experience=experience,
        ),
        tables=tuple(
            trusted(TableUse)(name=s.name, version=s.version, digest=s.digest) for s in tables.sets
        ),
        digest=tables.digest,
    )
    return appraisal, lots, setting


def _burnt(plan: BurnPlan | None) -> frozenset[str]:
    """The lots that the plan feeds."""
    steps = plan.feeding if plan is not None else ()
    return frozenset(name for step in steps for name in step.lots)


def verdicts(heap: Heap, burn: Burn | None, tables: Tables) -> list[Verdict | str]:
    """The verdict of each lot by itself, without sums, plan or mixture; the message where a lot
    cannot be appraised.
    """
    setting = setting_of(burn, tables, None)
    limits = limits_in_use(tables, None)
    verdicts_or_reasons: list[Verdict | str] = []
    for lot, name in zip(heap.lots, lot_names(heap), strict=True):
        try:
            verdicts_or_reasons.append(judged_lot(lot, setting, limits, name=name).verdict)
        except FeedstockError as why:
            verdicts_or_reasons.append(str(why))
    return verdicts_or_reasons


def setting_of(burn: Burn | None, tables: Tables, experience: Experience | None) -> Setting:
    """What holds for every lot of a burn."""
    return Setting(tables, burner_of(burn, tables)[0], burn, experience)


def judged_lot(
    lot: Lot, setting: Setting, limits: Limits | None, mark: str = "", name: str = ""
) -> JudgedLot:
    """One lot by itself with its figures; `mark` tells its stated ranges from those of others."""
    model = build_lot_model(lot, setting, "lots[0]", name or lot.name or lot.material, mark)
    return _judged_lots([model], setting, limits)[0]


def _mixture(
    lots: Sequence[JudgedLot], general: Verdict, limits: Limits | None, tables: Tables
) -> dict[str, Any]:
    """All lots thrown together."""
    mixed: Mixed = mixed_result(
        max(general, *(lot.verdict for lot in lots)),
        [lot.bound for lot in lots if lot.bound is not None],
        [lot.elements for lot in lots],
        limits,
        tables,
    )
    return {"mixed": mixed}


def _with_those_of_lots(why: FeedstockError, heap: Heap, tables: Tables) -> FeedstockError:
    """What is wrong with the burn or the limits, and what is wrong with the lots in any burn: all
    is told at once.
    """
    try:
        lot_models(heap, Setting(tables, burner_of(None, tables)[0], None))
    except FeedstockError as lots:
        kind = (
            UnknownName
            if isinstance(why, UnknownName) and isinstance(lots, UnknownName)
            else InputError
        )
        return kind((*why.problems, *lots.problems), why.left_out + lots.left_out)
    return why


def lot_models(heap: Heap, setting: Setting) -> list[LotModel]:
    """Every lot of a heap, bound. Raises FeedstockError with what is wrong with all of them."""
    problems: list[Problem] = []
    kinds: set[type[FeedstockError]] = set()
    models: list[LotModel] = []
    texts = None
    try:
        if heap.name or heap.remarks or heap.dismiss:
            texts = heap_texts(heap, setting.tables)
    except InputError as why:
        problems.extend(why.problems)
        kinds.add(InputError)
    named = zip(heap.lots, lot_names(heap), lot_marks(heap), strict=True)
    for index, (lot, name, mark) in enumerate(named):
        try:
            models.append(build_lot_model(lot, setting, f"lots[{index}]", name, mark, heap=texts))
        except FeedstockError as why:
            problems.extend(why.problems)
            kinds.add(type(why))
    if problems:
        raise (UnknownName if kinds == {UnknownName} else InputError)(list(dict.fromkeys(problems)))
    return models


def _judged_lots(
    models: Sequence[LotModel], setting: Setting, limits: Limits | None
) -> list[JudgedLot]:
    """Every lot run once and judged. An element on which something of one lot can depend is bound
    in all of them, so that the mixed heap is known.
    """
    tables = setting.tables
    suspicions = [suspected(model.evidence, tables) for model in models]
    own = [
        decisive(model, suspicion, limits, tables)
        for model, suspicion in zip(models, suspicions, strict=True)
    ]
    shared = tuple(dict.fromkeys(symbol for symbols in own for symbol in symbols))
    out = []
    for model, suspicion, symbols in zip(models, suspicions, own, strict=True):
        bound = bind_elements(model, suspicion, limits, tables, shared) if shared else None
        figures = _lot_figures(model, setting)
        if bound is not None:
            asked = (suspicion, limits.row_id if limits is not None else "")
            bound = replace(bound, figures=_element_figures(model, bound, symbols, setting, asked))
        out.append(
            judged(model, figures, bound, symbols, suspicion, setting.burner_row, limits, tables)
        )
    return out


def _lot_figures(model: LotModel, setting: Setting) -> dict[str, UncertainValue]:
    """All figures of a lot that its appraisal and, where there is one, the plan read."""
    wanted = [*(LOT_FIGURES[name].output for name in model.figures), "carbon_kept"]
    if _planned(setting):
        wanted += [name for name in fuel_outputs(model) if name not in wanted]
    return propagate(model.chain, model.inputs, wanted, signature=(model.kind, setting))


def _element_figures(
    model: LotModel, bound: LotElements, symbols: Sequence[str], setting: Setting, asked: Hashable
) -> dict[str, UncertainValue]:
    """The figures of the elements of a lot: all of those in `symbols`, the mass of the others."""
    wanted = [
        name
        for element in bound.elements
        for name in outputs_of(element.symbol)
        if (element.symbol in symbols or name == f"mass_{element.symbol}") and bound.gives(name)
    ]
    # own batches do not move contamination
    plain = replace(setting, experience=None)
    signature = (model.plain.kind, plain, asked)
    return propagate(bound.chain, bound.inputs, ["char_mass", *wanted], signature=signature)
