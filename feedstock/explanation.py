"""The path grammar of figures, and how any figure came about."""

from __future__ import annotations

import re
from collections.abc import Iterable

from .assessment.hypotheses import suspected
from .burn.burner import burner_of
from .burn.explained import explain_plan
from .burn.fuel import Fuel, concerns_of, fuel_outputs
from .burn.planned import PLAN_FIGURES
from .errors import InputError, Problem, TableError, UnknownName, nearest_names, shown
from .lot.build import Setting, build_lot_model
from .lot.drying import bind_drying
from .lot.elements import OUTPUTS, bind_elements, mixed_chain, mixed_figure, run_elements
from .lot.explained import explain_sum
from .lot.model import ADDED, LOT_FIGURES, LotModel, lot_marks
from .model.appraisal import Appraisal, LotAppraisal
from .model.explanation import Explanation
from .model.findings import Verdict
from .tables.limits import limits_in_use
from .tables.loading.load import load_tables
from .tables.register import loaded_tables
from .tables.tables import Tables
from .uncertainty.propagate import propagate


def _explain_burn(
    appraisal: Appraisal, figure: str, tables: Tables, burner_row: str
) -> Explanation:
    name, burn = figure.partition(".")[2], appraisal.inputs.burn
    names = list(PLAN_FIGURES) if appraisal.burn is not None else []
    if appraisal.burn is not None and burn is not None and name in PLAN_FIGURES:
        try:
            return explain_plan(
                figure,
                fuels_of(appraisal, tables),
                burn,
                tables,
                burner_row,
                appraisal.inputs.notes,
            )
        except KeyError:
            names = ["vessel_volume"]
    raise UnknownName(
        [
            Problem(
                "unknown-figure",
                f"there is no figure '{shown(figure)}'",
                f"Figures of this plan: {', '.join(f'burn.{item}' for item in names)}."
                if names
                else "There is no plan of the burn: give its burner and its measures.",
                figure,
                nearest=nearest_names(name, names),
            )
        ]
    )


_TOTALS = {"char_mass_ready": "char_mass", "char_volume_ready": "char_volume"}


def explain_figure(appraisal: Appraisal, figure: str, tables: Tables | None = None) -> Explanation:
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
    used = tables_of(appraisal, tables)
    burner_row, _ = burner_of(appraisal.inputs.burn, used)
    if figure.startswith("burn."):
        return _explain_burn(appraisal, figure, used, burner_row)
    if re.search(r"(?:^|\.)elements\.", figure):
        return _explain_element(appraisal, figure, used, burner_row)
    if re.search(r"\.drying\.\w+$", figure):
        return _explain_drying(appraisal, figure, used, burner_row)
    name, chosen = _which(appraisal, figure)
    about = LOT_FIGURES[name]
    models = _models(appraisal, used, burner_row, chosen)
    for index, model in zip(chosen, models, strict=True):
        _check_told(appraisal.lots[index], model, name, figure)
    lots = [(model.name, model.chain, model.inputs) for model in models]
    notes = appraisal.inputs.notes
    return explain_sum(figure, about.unit, lots, about.output, about.factor, notes, models)


def _models(
    appraisal: Appraisal, tables: Tables, burner_row: str, chosen: Iterable[int]
) -> list[LotModel]:
    """The chosen lots of an appraisal, bound again with all that is known of where their figures
    come from.
    """
    inputs, marks = appraisal.inputs, lot_marks(appraisal.inputs.heap)
    setting = Setting(tables, burner_row, inputs.burn, inputs.experience)
    return [
        build_lot_model(
            inputs.heap.lots[index],
            setting,
            f"lots[{index}]",
            appraisal.lots[index].name,
            marks[index],
            fresh=True,
        )
        for index in chosen
    ]


def fuels_of(appraisal: Appraisal, tables: Tables) -> list[Fuel]:
    """The lots of an appraisal as fuel for its plan."""
    burner_row, _ = burner_of(appraisal.inputs.burn, tables)
    models = _models(appraisal, tables, burner_row, range(len(appraisal.lots)))
    return [
        Fuel(
            model,
            lot.verdict,
            concerns_of(lot.findings),
            propagate(model.chain, model.inputs, fuel_outputs(model)),
        )
        for model, lot in zip(models, appraisal.lots, strict=True)
    ]


def _check_told(lot: LotAppraisal, model: LotModel, name: str, figure: str) -> None:
    """Raises UnknownName where the appraisal tells no such figure of the lot."""
    if lot.verdict is Verdict.KEEP_OUT and getattr(lot, name, "") is None:
        raise UnknownName(
            [
                Problem(
                    "kept-out",
                    f"{lot.name} is to be kept out, so no {name} is told of it",
                    f"See its findings; lots.{lot.name}.dry_mass can be explained.",
                    figure,
                )
            ]
        )
    if name not in model.figures:
        raise UnknownName(
            [
                Problem(
                    "unknown-figure",
                    f"there is no {name} of {lot.name}",
                    f"Figures: {', '.join(model.figures)}.",
                    figure,
                )
            ]
        )


def _explain_element(
    appraisal: Appraisal, figure: str, tables: Tables, burner_row: str
) -> Explanation:
    """`elements.As` of the mixed heap, or `lots.NAME.elements.As`, at will with `.central`,
    `.feed`, `.largest_share` or `.soil_addition`.
    """
    stated = re.fullmatch(r"(?:(.+)\.)?elements\.(\w+)(?:\.(\w+))?", figure)
    lot, symbol, part = stated.groups() if stated else ("", "", "")
    limits = limits_in_use(tables, appraisal.inputs.limits)
    chosen = range(len(appraisal.lots)) if lot is None else _which(appraisal, f"{lot}.char_mass")[1]
    bound = []
    for model in _models(appraisal, tables, burner_row, chosen):
        elements = bind_elements(model, suspected(model.evidence, tables), limits, tables)
        if elements is not None:
            bound.append((model.name, elements))
    notes = appraisal.inputs.notes
    symbols = list(dict.fromkeys(element.symbol for _, one in bound for element in one.elements))
    output = f"{OUTPUTS.get(part or '')}_{symbol}"
    if symbol in symbols and lot is None and not part:
        chain, inputs = mixed_chain(bound, symbol)
        total = mixed_figure([run_elements(one, symbol) for _, one in bound], symbol)
        heap = [("heap", chain, inputs)]
        return explain_sum(figure, "mg/kg", heap, "mixed", 1e6, notes, total=total)
    if symbol in symbols and lot is not None and bound[0][1].gives(output):
        name, one = bound[0]
        unit, factor = ("%", 100.0) if part == "largest_share" else ("mg/kg", 1e6)
        return explain_sum(figure, unit, [(name, one.chain, one.inputs)], output, factor, notes)
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


_DRYING = {"weeks": "season", "weeks_winter": "winter"}
"""The figures of drying, and which of the steps gives each."""


def _explain_drying(
    appraisal: Appraisal, figure: str, tables: Tables, burner_row: str
) -> Explanation:
    """`lots.NAME.drying.weeks` or `.weeks_winter`, as far as it is told of the lot."""
    lot, _, name = figure.rpartition(".drying.")
    (index,) = _which(appraisal, f"{lot}.moisture")[1]
    drying = appraisal.lots[index].drying
    names = [item for item in _DRYING if drying is not None and getattr(drying, item) is not None]
    if name not in names:
        raise UnknownName(
            [
                Problem(
                    "unknown-figure",
                    f"there is no figure '{shown(figure)}'",
                    f"Figures of its drying: {', '.join(names) or 'none'}.",
                    figure,
                    nearest=nearest_names(name, names),
                )
            ]
        )
    (model,) = _models(appraisal, tables, burner_row, [index])
    bound = bind_drying(model, tables)
    lots = [(model.name, bound.chain, bound.inputs)]
    output = getattr(bound, _DRYING[name])
    return explain_sum(figure, "week", lots, output, 1 / 604800, appraisal.inputs.notes)


def tables_of(appraisal: Appraisal, tables: Tables | None = None) -> Tables:
    """The tables of an appraisal: those that are given, those of its digest that are still loaded
    in this process, or the default ones.

    Raises TableError where none of them has its digest.
    """
    methods = tuple(sorted(appraisal.inputs.methods.items()))
    for candidate in (tables,) if tables is not None else (loaded_tables(appraisal.digest), None):
        used = candidate if candidate is not None else load_tables()
        if used.digest == appraisal.digest:
            return used if used.use == methods else used.using(**dict(methods))
    names = ", ".join(f"{t.name} {t.version}" for t in appraisal.tables)
    raise TableError(
        [
            Problem(
                "other-tables",
                "the tables in use are not those of this appraisal",
                f"Give explain the tables with these sets: {names}; or appraise again.",
                "digest",
            )
        ]
    )


def _which(appraisal: Appraisal, figure: str) -> tuple[str, list[int]]:
    """The figure's name and the lots that it is made of."""
    offered = [*ADDED, *_TOTALS]
    by_index = re.fullmatch(r"lots\[(\d{1,6})\]\.(\w+)", figure)
    by_name = re.fullmatch(r"lots\.(.+)\.(\w+)", figure)
    if figure in offered:
        ready = figure in _TOTALS
        worst = Verdict.READY if ready else Verdict.CHECK_FIRST
        return _TOTALS.get(figure, figure), [
            i for i, lot in enumerate(appraisal.lots) if lot.verdict <= worst
        ]
    named = by_index or by_name
    if named is not None:
        stated, name = named.groups()
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
                        nearest=nearest_names(stated, [lot.name for lot in appraisal.lots]),
                    )
                ]
            )
        if name in LOT_FIGURES:
            return name, [index]
        offered = list(LOT_FIGURES)
    raise UnknownName(
        [
            Problem(
                "unknown-figure",
                f"there is no figure '{shown(figure)}'",
                "Write for instance char_mass, lots[0].moisture or lots.NAME.char_volume.",
                figure,
                nearest=nearest_names(figure.rpartition(".")[2], offered),
            )
        ]
    )
