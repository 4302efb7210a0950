"""The path grammar of figures, and how any figure came about."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from .assessment.hypotheses import suspected
from .burn.fuel import Fuel
from .burn.graph import Graph, estimate_in
from .burn.plan import plan_graph, usable_fuels
from .burn.planned import PLAN_FIGURES, SUMS
from .errors import InputError, Problem, TableError, UnknownName, nearest_names, shown
from .lot.char_through import char_through_steps
from .lot.elements import OUTPUTS, bind_elements, mixed_chain
from .lot.evidence import evidence_of
from .lot.figures import ADDED, FIGURES
from .lot.model import bind
from .model.appraisal import Appraisal, LotAppraisal
from .model.explanation import Doubt, Explanation, Term
from .model.findings import Verdict
from .model.inputs.burn import Burn
from .physics import quench as quench_physics
from .pipeline import _burner, _fuels_of
from .tables.limits import limits_in_use
from .tables.loading.load import load_tables
from .tables.rows.methods.fire import Quench as QuenchMethod
from .tables.tables import Tables
from .uncertainty.figure import Figure
from .uncertainty.formula import formula_of
from .uncertainty.graph import Chain, Step, run, upstream
from .uncertainty.inputs import Input, Number
from .uncertainty.propagate import figures
from .uncertainty.sums import add


def explain(
    name: str,
    unit: str,
    lots: Sequence[tuple[str, Chain, Sequence[Input]]],
    output: str,
    factor: float = 1.0,
    notes: Iterable[str] = (),
) -> Explanation:
    """Run the chains of the lots again and read the explanation of the sum of `output` off them.

    `factor` turns the chain's SI value into `unit`.
    """
    parts = [figures(chain, inputs, [output])[output] for _, chain, inputs in lots]
    total = add(parts) if len(parts) != 1 else parts[0]
    shares = total.shares()
    doubts, steps, given = [], [], set[str]()
    for lot, chain, inputs in lots:
        needed = upstream(chain, output)
        values = run(chain, {each.name: each.mid for each in inputs})
        steps += [_term(step, values, lot) for step in chain if step.output in needed]
        for each in inputs:
            if each.name in needed:
                share = 0.0 if each.key in given else shares.get(each.key, 0.0)
                given.add(each.key)
                doubts.append(
                    Doubt(
                        each.name,
                        each.low,
                        each.mid,
                        each.high,
                        each.unit,
                        each.key,
                        share,
                        each.origin,
                        lot,
                    )
                )
    doubts.sort(key=lambda d: -d.share)
    low, high = total.ends
    return Explanation(
        name,
        unit,
        low * factor,
        total.mid * factor,
        high * factor,
        tuple((lot, part.mid * factor) for (lot, _, _), part in zip(lots, parts, strict=True)),
        tuple(steps),
        tuple(doubts),
        tuple(notes),
    )


def _term(step: Step, values: Mapping[str, Number], lot: str) -> Term:
    about = formula_of(step.function)
    return Term(
        step.output,
        values[step.output],
        about.units.get("result", ""),
        about.name,
        about.reference,
        tuple((name, values[name]) for name in step.inputs),
        lot,
    )


def explained(
    figure_name: str,
    unit: str,
    factor: float,
    output: str,
    figure: Figure,
    graph: Graph,
    fuels: Sequence[Fuel],
    sums: Mapping[str, str],
    notes: Iterable[str],
) -> Explanation:
    """How a figure of the plan came about; `sums` says which figure of the lots stands behind each
    given one.
    """
    shares, given = figure.shares(), set[str]()
    needed = upstream(graph.steps, output)
    doubts: list[Doubt] = []
    terms: list[Term] = []

    def take(inputs: Iterable[Input], wanted: set[str], lot: str) -> None:
        for each in inputs:
            if each.name in wanted:
                doubts.append(
                    Doubt(
                        each.name,
                        each.low,
                        each.mid,
                        each.high,
                        each.unit,
                        each.key,
                        0.0 if each.key in given else shares.get(each.key, 0.0),
                        each.origin,
                        lot,
                    )
                )
                given.add(each.key)

    def tell(
        steps: Iterable[Step], wanted: set[str], values: Mapping[str, float], lot: str
    ) -> None:
        for step in steps:
            if step.output in wanted:
                about = formula_of(step.function)
                terms.append(
                    Term(
                        step.output,
                        values[step.output],
                        about.units.get("result", ""),
                        about.name,
                        about.reference,
                        tuple((name, values[name]) for name in step.inputs),
                        lot,
                    )
                )

    behind = {sums[name] for name in graph.given if name in needed and name in sums}
    for fuel in fuels:
        extra, more = char_through_steps(fuel.bound, fuel.lot, fuel.full, fuel.class_, graph.tables)
        chain, inputs = (*fuel.bound.chain, *extra), [*fuel.bound.inputs, *more]
        wanted = set().union(*(upstream(chain, name) for name in behind)) if behind else set()
        tell(chain, wanted, run(chain, {each.name: each.mid for each in inputs}), fuel.name)
        take(inputs, wanted, fuel.name)
    mids = {each.name: each.mid for each in graph.inputs.values()} | {
        name: each.mid for name, each in graph.given.items()
    }
    tell(graph.steps, needed, run(tuple(graph.steps), mids), "the burn")
    take(graph.inputs.values(), needed, "")
    doubts = [replace(d, share=max(d.share, 0.0)) for d in sorted(doubts, key=lambda d: -d.share)]
    shown = estimate_in(figure, unit, factor)
    return Explanation(
        figure_name,
        unit,
        shown.low_value,
        shown.mid_value,
        shown.high_value,
        (),
        tuple(terms),
        tuple(doubts),
        tuple(notes),
    )


def explain_plan(
    figure: str,
    fuels: Sequence[Fuel],
    burn: Burn,
    tables: Tables,
    burner_row: str,
    notes: Sequence[str],
) -> Explanation:
    """How a figure of the plan came about.

    Raises KeyError where there is no such figure in this plan.
    """
    name = figure.partition(".")[2]
    about = PLAN_FIGURES[name]
    usable, _ = usable_fuels(fuels, tables)
    planned = plan_graph(usable, burn, tables, burner_row)
    if about.output not in planned.figures:
        raise KeyError(figure)
    more = (
        [
            "have_ready is the high end of this times the reserve of the quench "
            "method, and never less than its least"
        ]
        if name == "have_ready"
        else []
    )
    found = explained(
        figure,
        about.unit,
        about.factor,
        about.output,
        planned.figures[about.output],
        planned.graph,
        usable,
        SUMS,
        [*notes, *planned.graph.notes, *more],
    )
    shown = planned.estimate(name)
    if name != "have_ready":
        return (
            found
            if shown is None
            else replace(found, low=shown.low_value, mid=shown.mid_value, high=shown.high_value)
        )
    _, method = tables.method("quench", QuenchMethod)
    ready = float(
        quench_physics.have_ready(found.high, method.reserve.mid, 1000 * method.least.mid)
    )
    return replace(found, low=ready, mid=ready, high=ready)


def _explain_burn(
    appraisal: Appraisal, figure: str, tables: Tables, burner_row: str
) -> Explanation:
    name, burn = figure.partition(".")[2], appraisal.inputs.burn
    known = list(PLAN_FIGURES) if appraisal.burn is not None else []
    if appraisal.burn is not None and burn is not None and name in PLAN_FIGURES:
        try:
            return explain_plan(
                figure,
                _fuels_of(appraisal, tables),
                burn,
                tables,
                burner_row,
                appraisal.inputs.notes,
            )
        except KeyError:
            known = ["vessel_volume"]
    raise UnknownName(
        [
            Problem(
                "unknown-figure",
                f"there is no figure '{shown(figure)}'",
                f"Figures of this plan: {', '.join(f'burn.{each}' for each in known)}."
                if known
                else "There is no plan of the burn: give its burner and its measures.",
                figure,
                nearest=nearest_names(name, known),
            )
        ]
    )


_TOTALS = {"char_mass_ready": "char_mass", "char_volume_ready": "char_volume"}


def explain_figure(appraisal: Appraisal, figure: str) -> Explanation:
    """Run the chains again and say how a figure came about; see `Appraisal.explain`."""
    if not isinstance(figure, str):
        raise InputError(
            [
                Problem(
                    "wrong-type",
                    f"a {type(figure).__name__} was given as figure",
                    "Write for instance char_mass or lots[0].moisture.",
                    "figure",
                )
            ]
        )
    tables = _tables_of(appraisal)
    burn = appraisal.inputs.burn
    burner_row, _ = _burner(burn, tables)
    if figure.startswith("burn."):
        return _explain_burn(appraisal, figure, tables, burner_row)
    if re.search(r"(?:^|\.)elements\.", figure):
        return _explain_element(appraisal, figure, tables, burner_row)
    name, chosen = _which(appraisal, figure)
    about = FIGURES[name]
    lots = []
    for index in chosen:
        lot, result = appraisal.inputs.heap.lots[index], appraisal.lots[index]
        if (
            result.verdict is Verdict.KEEP_OUT
            and name in LotAppraisal.model_fields
            and getattr(result, name) is None
        ):
            raise UnknownName(
                [
                    Problem(
                        "kept-out",
                        f"{result.name} is to be kept out, so no {name} is told of it",
                        f"See its findings; lots.{result.name}.dry_mass can be explained.",
                        figure,
                    )
                ]
            )
        bound = bind(
            lot, result.row, tables, burner_row, burn, f"lots[{index}]", appraisal.inputs.experience
        )
        if name not in bound.figures:
            raise UnknownName(
                [
                    Problem(
                        "unknown-figure",
                        f"there is no {name} of {result.name}",
                        f"Figures: {', '.join(bound.figures)}.",
                        figure,
                    )
                ]
            )
        lots.append((result.name, bound.chain, bound.inputs))
    return explain(figure, about.unit, lots, about.output, about.factor, appraisal.inputs.notes)


def _explain_element(
    appraisal: Appraisal, figure: str, tables: Tables, burner_row: str
) -> Explanation:
    """`elements.As` of the mixed heap, or `lots.NAME.elements.As`, at will with `.central`,
    `.feed`, `.largest_share` or `.soil_addition`.
    """
    said = re.fullmatch(r"(?:(.+)\.)?elements\.(\w+)(?:\.(\w+))?", figure)
    lot, symbol, part = said.groups() if said else ("", "", "")
    limits = limits_in_use(tables, appraisal.inputs.limits)
    chosen = range(len(appraisal.lots)) if lot is None else _which(appraisal, f"{lot}.char_mass")[1]
    loaded = []
    for index in chosen:
        given, burn = appraisal.inputs.heap.lots[index], appraisal.inputs.burn
        evidence = evidence_of(given, burn, tables, f"lots[{index}]")
        bound = bind(given, appraisal.lots[index].row, tables, burner_row, burn, f"lots[{index}]")
        each = bind_elements(
            given,
            appraisal.lots[index].row,
            bound.chain,
            bound.inputs,
            suspected(evidence, tables),
            limits,
            tables,
        )
        if each is not None:
            loaded.append((appraisal.lots[index].name, each))
    notes = appraisal.inputs.notes
    symbols = list(dict.fromkeys(each.symbol for _, one in loaded for each in one.elements))
    output = f"{OUTPUTS.get(part or '')}_{symbol}"
    if symbol in symbols and lot is None and not part:
        chain, inputs = mixed_chain(loaded, symbol)
        return explain(figure, "mg/kg", [("heap", chain, inputs)], "mixed", 1e6, notes)
    if symbol in symbols and lot is not None and output in loaded[0][1].figures:
        name, one = loaded[0]
        unit, factor = ("%", 100.0) if part == "largest_share" else ("mg/kg", 1e6)
        return explain(figure, unit, [(name, one.chain, one.inputs)], output, factor, notes)
    raise UnknownName(
        [
            Problem(
                "unknown-figure",
                f"there is no figure '{shown(figure)}'",
                f"Elements: {', '.join(symbols) or 'none'}; write for instance "
                "lots[0].elements.As, "
                "lots.NAME.elements.Cd.central or elements.As.",
                figure,
                nearest=nearest_names(symbol or "", symbols),
            )
        ]
    )


def _tables_of(appraisal: Appraisal) -> Tables:
    held = appraisal.__dict__.get("_tables")
    if isinstance(held, Tables):
        return held
    tables = (
        load_tables().using(**appraisal.inputs.methods)
        if appraisal.inputs.methods
        else load_tables()
    )
    if tables.digest != appraisal.digest:
        names = ", ".join(f"{t.name} {t.version}" for t in appraisal.tables)
        raise TableError(
            [
                Problem(
                    "other-tables",
                    "the tables in use are not those of this appraisal",
                    f"Appraise again, or load the same sets: {names}.",
                    "digest",
                )
            ]
        )
    return tables


def _which(appraisal: Appraisal, figure: str) -> tuple[str, list[int]]:
    """The figure's name and the lots that it is made of."""
    known = [*ADDED, *_TOTALS]
    by_index = re.fullmatch(r"lots\[(\d{1,6})\]\.(\w+)", figure)
    by_name = re.fullmatch(r"lots\.(.+)\.(\w+)", figure)
    if figure in known:
        ready = figure in _TOTALS
        worst = Verdict.READY if ready else Verdict.CHECK_FIRST
        return _TOTALS.get(figure, figure), [
            i for i, lot in enumerate(appraisal.lots) if lot.verdict <= worst
        ]
    named = by_index or by_name
    if named is not None:
        said, name = named.groups()
        names = [lot.name.casefold() for lot in appraisal.lots]
        if by_index and int(by_index.group(1)) < len(names):
            index = int(by_index.group(1))
        elif by_name and by_name.group(1).casefold() in names:
            index = names.index(by_name.group(1).casefold())
        else:
            raise UnknownName(
                [
                    Problem(
                        "unknown-lot",
                        f"there is no lot '{shown(figure)}'",
                        f"Lots: {', '.join(lot.name for lot in appraisal.lots[:20])}.",
                        figure,
                        nearest=nearest_names(said, [lot.name for lot in appraisal.lots]),
                    )
                ]
            )
        if name in FIGURES:
            return name, [index]
        known = list(FIGURES)
    raise UnknownName(
        [
            Problem(
                "unknown-figure",
                f"there is no figure '{shown(figure)}'",
                "Write for instance char_mass, lots[0].moisture or lots.NAME.char_volume.",
                figure,
                nearest=nearest_names(figure.rpartition(".")[2], known),
            )
        ]
    )
