"""Moisture on wet and on dry basis."""

from __future__ import annotations

from .cell import Cell


def as_wet(value: float, basis: str) -> float:
    """A moisture on the basis that it was said on, as a share of the wet mass."""
    return value / (1 + value) if basis == "dry" else value


def as_dry(value: float) -> float:
    """A share of the wet mass as one of the dry mass."""
    return value / (1 - value)


def gate_share(cell: Cell) -> float:
    """A working moisture as a wet-basis share, whichever basis the table gives."""
    return cell.mid / (1 + cell.mid) if cell.basis == "dry" else cell.mid
