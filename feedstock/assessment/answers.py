"""What can be answered without a laboratory where a plant gathers an element by itself or a char is
mostly ash: a use to which the person binds themselves.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..lot.model import LotModel
from ..model.appraisal import ElementContent
from ..model.findings import Verdict
from ..physics import elements
from ..tables.citations import cited
from ..tables.rows.methods.elements import ElementScreening, SoilAddition
from ..tables.tables import Tables
from ..words import Message, Quantity

PER_KG = 1e6
NATURAL, ASH = "background-over-limit", "high-ash-char"


def of_nature(
    natural: Sequence[ElementContent],
    content: Message,
    laboratory: Message,
    words: ElementScreening,
    model: LotModel,
    tables: Tables,
) -> tuple[dict[str, Any], Verdict]:
    """What is said of elements that are there by nature: what the person can bind themselves to,
    and what they did.
    """
    thin = _thin(natural, words, tables)
    ways = {}
    for answer in words.answers:
        way = thin if answer.by_load else Message("text", text=answer.action)
        if answer.to == "background" and way is not None:
            ways[answer.sign] = Message("answer", way=way, sign=_sign_name(tables, answer.sign))
            if _has_sign(answer.sign, model, tables):
                return {"held": content, "action": way, "answered": True}, Verdict.READY
    settle = next(iter(ways.values()), Message("settle.batch", step=laboratory))
    action = Message("background-ways", ways=tuple(ways.values()), laboratory=laboratory)
    about = Message("about.natural", elements=tuple(item.name for item in natural))
    values = {"held": content, "action": action, "settle": settle, "about": about}
    return values, Verdict.CHECK_FIRST


def _has_sign(sign: str, model: LotModel, tables: Tables) -> bool:
    row_ids = tables.index("signs").find(sign)
    return len(row_ids) == 1 and row_ids[0] in model.evidence.signs


def _sign_name(tables: Tables, sign: str) -> Any:
    row_ids = tables.index("signs").find(sign)
    return tables.rows["signs"][row_ids[0]].called(sign) if row_ids else sign


def _thin(
    natural: Sequence[ElementContent], words: ElementScreening, tables: Tables
) -> Message | None:
    """How thin the char must be spread to keep the yearly load of every element that passes its
    limit; None where no load is known for one of them.
    """
    bed = tables.gate_method("soil-addition", SoilAddition)
    if bed is None or any(item.element not in words.yearly for item in natural):
        return None
    most = {
        item.name: elements.dressing_within(
            words.yearly[item.element].mid, item.screening.high_value / PER_KG
        )
        for item in natural
    }
    name, least = min(most.items(), key=lambda pair: pair[1])
    worst = next(item for item in natural if item.name == name)
    cell = words.yearly[worst.element]
    return Message(
        "thin-dressing",
        element=name,
        yearly=PER_KG * cell.mid,
        dressing=Quantity(bed[1].dressing.mid, "kg/m^2"),
        times=bed[1].dressing.mid / least,
        most=Quantity(least, "kg/m^2"),
        law=tuple(cite.text for cite in cited(cell, tables, "reference")),
    )


def of_ash(
    words: ElementScreening, model: LotModel, tables: Tables
) -> tuple[dict[str, Any], Verdict]:
    """What is said of a char that is mostly ash, and what the person bound themselves to."""
    laboratory, ways = Message("text", text=words.salts), []
    for answer in words.answers:
        if answer.to == "ash":
            way = Message("text", text=answer.action)
            if _has_sign(answer.sign, model, tables):
                return {"action": way}, Verdict.READY
            ways.append(Message("answer", way=way, sign=_sign_name(tables, answer.sign)))
    settle = next(iter(ways), Message("settle.batch", step=laboratory))
    action = Message("background-ways", ways=tuple(ways), laboratory=laboratory)
    values = {"action": action, "settle": settle, "about": Message("about.ash")}
    return values, Verdict.CHECK_FIRST
