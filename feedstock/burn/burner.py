"""The burner of a burn, and what cannot be said of it."""

from __future__ import annotations

from ..errors import InputError, Problem, UnknownName
from ..lot.evidence import unknown_burn_words
from ..model.inputs.burn import Burn
from ..tables.rows.burner import Burner
from ..tables.tables import Tables
from ..words import Message


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
