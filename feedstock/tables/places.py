"""Where something in the tables comes from."""

from __future__ import annotations

from ..quantities.frozen import frozen, record


@frozen
class SetInfo:
    """Which set was used: its name, version and the digest of its content, and what it says of
    itself.
    """

    name: str
    version: str
    digest: str
    licence: str = ""
    distribution: str = ""
    maintainer: str = ""
    description: str = ""


@frozen
class Provenance:
    """Where a field of a row comes from."""

    set: str
    version: str
    file: str
    line: int | None
    column: int | None
    source: tuple[str, ...]
    locator: str
    known: str
    inherited_from: str = ""


@frozen
class Where:
    """The place of one field: its set, file, line and column, and the row that it was inherited
    from.
    """

    set: str
    file: str
    line: int | None
    column: int | None
    row: str


@record
class Loosened:
    """A set made a gate of another set easier to pass, and said why."""

    set: str
    row: str
    reason: str
