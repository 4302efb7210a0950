"""The burner of a burn, and what cannot be said of it."""

from __future__ import annotations

from ..errors import InputError, Problem, UnknownName
from ..lot.evidence import unknown_burn_words
from ..model.inputs.burn import Burn
from ..tables.rows.burner import Burner
from ..tables.tables import Tables
from ..words import Message, Quantity
from .measures import has_measures


def burner_of(burn: Burn | None, tables: Tables) -> tuple[str, list[Message]]:
    """The row of the burner, and a note where none was named.

    Raises UnknownName for what is in no table, InputError for what does not fit the burner.
    """
    if burn is None:
        row_id = tables.find("burners", tables.defaults[1].burner, "methods.defaults.burner")
        name = tables.row("burners", row_id, Burner).called(row_id)
        return row_id, [Message("heap.no-burn", burner=name)]
    row_id = tables.find("burners", burn.burner, "burn.burner")
    unknown = unknown_burn_words(burn, tables)
    if unknown:
        raise UnknownName(unknown)
    row = tables.row("burners", row_id, Burner)
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
    return row_id, []


def usual_burn(burn: Burn | None, tables: Tables) -> tuple[Burn | None, Message | None]:
    """The burn with the usual measures of its burner where none were given, and a note that says
    so; as it is where it has measures or its burner has no usual size.

    Raises as `burner_of` does.
    """
    row_id, _ = burner_of(burn, tables)
    row = tables.row("burners", row_id, Burner)
    if has_measures(burn) or not row.usual:
        return burn, None
    key = row_id.partition(":")[2]
    stated = {} if burn is None else burn.model_dump(exclude_unset=True)
    usual = {name: f"{cell.mid:g} m" for name, cell in row.usual.items()}
    made = Burn.model_validate({"burner": key, **stated, **usual})
    size = {name: Quantity(float(cell.mid), "m") for name, cell in row.usual.items()}
    return made, Message("heap.usual-size", burner=row.called(key), **size)
