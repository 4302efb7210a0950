"""How wide and deep a vessel is to be for a heap in so many loads."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from pydantic import ValidationError

from ..documents.problems import problems_of
from ..errors import InputError, Problem
from ..model.burn_plan import BurnPlan, Sizing
from ..model.findings import Caution
from ..model.inputs.burn import Burn
from ..tables.rows.burner import Burner
from ..tables.tables import Tables
from .fuel import Fuel
from .measures import bare
from .plan import can_plan, layout_at_middle, plan_of, usable_fuels

_HALVINGS = 40
_SMALLEST, _LARGEST = 0.3, 2.0
"""Of the usual measures at their middle, and of their high ends."""
_MOST_LOADS = 1000
# measures are told in twentieths of a metre, finer where these would change the loads
_PARTS = (20, 100, 1000)


def burn_with(burner: str | Burn) -> Burn:
    """A burner's name as a burn without measures. Raises InputError for what is no name."""
    if isinstance(burner, Burn):
        return burner
    try:
        return Burn(burner=burner)
    except ValidationError as why:
        raise InputError(problems_of(why, Burn)) from None


def size_from(
    fuels: Sequence[Fuel],
    burn: Burn,
    loads: int,
    tables: Tables,
    burner_row: str,
    cautions: Sequence[Caution],
) -> Sizing:
    """The smallest vessel of the burner's usual proportions that takes the ready lots in so many
    loads; its measures in `burn` count for nothing.

    Raises InputError where nothing is ready, or where no vessel of that kind does it.
    """
    burner = tables.row("burners", burner_row, Burner)
    _check(loads, burner, burn, tables)
    usable, _ = usable_fuels(fuels, tables)
    if not usable:
        raise _refused("nothing-ready", "no lot is ready to be burnt", "Dry or clear it first.")
    unmeasured = bare(burn)

    def needed(scale: float, parts: int) -> tuple[Burn, int]:
        sized = _sized(unmeasured, burner, scale, parts)
        return sized, layout_at_middle(usable, sized, tables, burner_row)[0].loads

    scale = _smallest(burner, loads, lambda scale: needed(scale, 0)[1])
    for parts in _PARTS:
        sized, count = needed(scale, parts)
        if count == loads:
            break
    if count < loads:
        raise _refused(
            "too-little",
            f"there is too little to burn for {loads} loads",
            f"Ask for fewer: loads {count}.",
            "loads",
        )
    plan, _ = plan_of(fuels, sized, tables, burner_row, cautions)
    return _sizing(sized, plan)


def _sizing(sized: Burn, plan: BurnPlan | None) -> Sizing:
    if plan is None or plan.water is None or plan.quick_fuel is None:
        raise _refused(
            "nothing-through",
            "no lot gets through in such a burn",
            "Split it, or burn it in fewer loads.",
        )
    return Sizing(
        burn=sized,
        loads=plan.loads.mid,
        hours=plan.hours,
        water=plan.water,
        quick_fuel=plan.quick_fuel,
        plan=plan,
    )


def _check(loads: int, burner: Burner, burn: Burn, tables: Tables) -> None:
    if isinstance(loads, bool) or not isinstance(loads, int) or not 1 <= loads <= _MOST_LOADS:
        raise _refused(
            "out-of-range", f"{loads} is no number of loads", "Write 1, 2, 3 or so.", "loads"
        )
    if not burner.usual or not can_plan(tables):
        raise _refused(
            "no-proportions",
            f"the tables hold no usual proportions of the {burner.display(burn.burner)}",
            "Choose a burner that has them: cone pit, pit, trench, kettle.",
            "burn.burner",
        )


def _refused(code: str, what: str, remedy: str, field: str = "heap") -> InputError:
    return InputError([Problem(code, what, remedy, field)])


def _sized(burn: Burn, burner: Burner, scale: float, parts: int) -> Burn:
    """The burn with the usual measures times a factor, rounded up to parts of a metre; a trench
    grows in length alone.
    """
    longer = burner.shape == "trench"
    measures = {}
    for name, cell in burner.usual.items():
        value = cell.mid * (scale if not longer or name == "length" else 1.0)
        if parts:
            value = math.ceil(value * parts * (1 - 1e-9)) / parts
        measures[name] = f"{100 * value:.10g} cm"
    return Burn.model_validate({**burn.model_dump(exclude_none=True), **measures})


def _smallest(burner: Burner, loads: int, needed: Callable[[float], int]) -> float:
    grows = "length" if burner.shape == "trench" else next(iter(burner.usual))
    cell = burner.usual[grows]
    low, high = _SMALLEST, _LARGEST * cell.high / cell.mid
    if needed(high) > loads:
        raise _refused(
            "too-large",
            f"even a {grows} of {high * cell.mid:.2g} m takes this heap in {needed(high)} loads",
            f"Ask for that many loads or more: loads {needed(high)}.",
            "loads",
        )
    if needed(low) <= loads:
        return low
    for _ in range(_HALVINGS):
        middle = math.sqrt(low * high)
        if needed(middle) <= loads:
            high = middle
        else:
            low = middle
        if high / low < 1 + 1e-6:
            break
    return high
