"""Lots of a panel that is made from the tables: one for every sign, origin, rule of a suspicion,
clearing row, and material that carries, gathers or asks something.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..model.inputs.burn import Burn
from ..model.inputs.heap import Heap
from ..model.inputs.lot import Lot
from ..tables.caches import kept_of_tables
from ..tables.rows.contaminant import Clears, Condition, Contaminant
from ..tables.rows.material import Material
from ..tables.tables import Tables

Subject = tuple[Heap, Burn | None]
_PLAIN = "oak"
_ON = (("sawn offcuts", "workshop"), ("oak", "own trees"), ("wheat straw", "farm"))


@kept_of_tables(8)
def subjects(tables: Tables) -> dict[str, Subject]:
    """The heaps by name; rules that ask for a vessel, a ground or a lighting have one each."""
    subjects_of: dict[str, Subject] = {
        "each sign": (Heap(lots=list(_of_signs(tables))), None),
        "each origin": (Heap(lots=list(_of_origins(tables))), None),
        "each material that asks": (Heap(lots=list(_of_materials(tables))), None),
        "each clearing row": (Heap(lots=list(_of_clears(tables))), None),
    }
    plain: list[Lot] = []
    for row_id, row in tables.rows["contaminants"].items():
        for number, rule in enumerate(row.raised_by if isinstance(row, Contaminant) else ()):
            name = f"{row_id.partition(':')[2]} {number + 1}"
            lot, burn = _lot_for(tables, rule, name), _burn_for(rule)
            if burn is None:
                plain.append(lot)
            else:
                subjects_of[f"each suspicion of a fire: {name}"] = (Heap(lots=[lot]), burn)
    if plain:
        subjects_of["each suspicion"] = (Heap(lots=plain), None)
    return subjects_of


def touched(before: Tables, after: Tables) -> dict[str, Subject]:
    """Lots of every material that differs from one set of tables to another, in each condition of
    its moisture and without any.
    """
    lots: list[Lot] = []
    for row_id, row in before.rows["materials"].items():
        if isinstance(row, Material) and after.rows["materials"].get(row_id) != row:
            name = _called(before, "materials", row_id)
            lots.append(_lot(name, name, "own trees", moisture=None))
            lots += [
                _lot(f"{name}, {word}", name, "own trees", moisture={"condition": word})
                for word in row.moisture
            ]
    return {"each changed material": (Heap(lots=lots), None)} if lots else {}


def _lot(name: str, material: str, origin: str, **more: object) -> Lot:
    return Lot.model_validate(
        {
            "name": name,
            "material": material,
            "mass": "10 kg",
            "moisture": "12 % wet",
            "origin": origin,
            **more,
        }
    )


def _called(tables: Tables, kind: str, row_id: str) -> str:
    return tables.rows[kind][row_id].display(row_id.partition(":")[2])


def _of_signs(tables: Tables) -> Iterator[Lot]:
    for row_id in tables.rows["signs"]:
        sign = _called(tables, "signs", row_id)
        for material, origin in _ON[:2]:
            yield _lot(f"{sign}, {material}", material, origin, signs=[sign])


def _of_origins(tables: Tables) -> Iterator[Lot]:
    for row_id in tables.rows["origins"]:
        origin = _called(tables, "origins", row_id)
        for material, _ in _ON:
            yield _lot(f"{origin}, {material}", material, origin)


def _of_materials(tables: Tables) -> Iterator[Lot]:
    for row_id, row in tables.rows["materials"].items():
        asks = isinstance(row, Material) and (
            row.carries or row.accumulates or row.history == "needed"
        )
        if asks:
            name = _called(tables, "materials", row_id)
            yield _lot(name, name, "own garden")


def _of_clears(tables: Tables) -> Iterator[Lot]:
    """The evidence of each clearing row whole, and without each of its signs."""
    for row_id, row in tables.rows["clears"].items():
        if not isinstance(row, Clears):
            continue
        name, signs = row_id.partition(":")[2], row.when.signs
        carrier = _carrier(tables, row.hypothesis) or _PLAIN
        for left_out in (None, *signs):
            rest = row.when.model_copy(update={"signs": tuple(s for s in signs if s != left_out)})
            title = f"{name} without {left_out}" if left_out else name
            yield _lot_for(tables, rest, title, carrier)


def _carrier(tables: Tables, hypothesis: str) -> str | None:
    wanted = tables.find("contaminants", hypothesis)
    for row_id, row in tables.rows["materials"].items():
        if isinstance(row, Material) and any(
            tables.find("contaminants", key) == wanted for key in row.carries
        ):
            return _called(tables, "materials", row_id)
    return None


def _lot_for(tables: Tables, condition: Condition, name: str, material: str = _PLAIN) -> Lot:
    """A lot for which a condition holds, as far as its parts allow it."""
    years = [*(() if condition.before is None else (condition.before - 1,)), condition.after]
    year = next((year for year in years if year is not None), None)
    fields = {
        "year": year,
        "region": next(iter(condition.regions), None),
        "remarks": next(iter(condition.words), None),
    }
    return _lot(
        name,
        next(iter(condition.materials), None) or _fitting(tables, condition) or material,
        next(iter(condition.origins), None) or _other_origin(tables, condition),
        signs=list(condition.signs),
        **{key: value for key, value in fields.items() if value is not None},
    )


def _fitting(tables: Tables, condition: Condition) -> str | None:
    """The first material of the class, form, traits and history that a condition asks for."""
    if not (condition.classes or condition.forms or condition.traits or condition.history):
        return None
    for row_id, row in tables.rows["materials"].items():
        if (
            isinstance(row, Material)
            and (not condition.classes or row.class_ in condition.classes)
            and (not condition.forms or row.form in condition.forms)
            and (not condition.traits or set(condition.traits) & set(row.traits))
            and (condition.history is None or row.history == condition.history)
        ):
            return _called(tables, "materials", row_id)
    return None


def _other_origin(tables: Tables, condition: Condition) -> str:
    wrong = {tables.find("origins", name) for name in condition.not_origins}
    names: Iterable[str] = (
        "own trees",
        *(_called(tables, "origins", i) for i in tables.rows["origins"]),
    )
    return next(name for name in names if tables.find("origins", name) not in wrong)


def _burn_for(condition: Condition) -> Burn | None:
    words = {name: list(getattr(condition, name)[:1]) for name in ("vessel", "ground", "lighting")}
    if not any(words.values()):
        return None
    return Burn.model_validate({"burner": "pit", **words})
