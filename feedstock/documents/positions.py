"""A document's data with the line and column of every value."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

Path_ = tuple[str | int, ...]


Place = tuple[int, int]


@dataclass(slots=True)
class Located:
    """Plain data (dicts, lists, text, None) and where each part of it stands: path -> (line,
    column), from 1.

    `keys` holds the place of the key where `places` holds that of the value.
    """

    data: Any
    file: str
    places: dict[Path_, Place] = field(default_factory=dict)
    keys: dict[Path_, Place] = field(default_factory=dict)

    def place(self, path: Path_, key: bool = False) -> Place | None:
        """The place of a path, or of the nearest part around it that has one."""
        while True:
            if key and path in self.keys:
                return self.keys[path]
            if path in self.places:
                return self.places[path]
            if not path:
                return None
            path = path[:-1]


def path_text(path: Iterable[str | int]) -> str:
    """`("lots", 0, "mass")` as `lots[0].mass`."""
    text = ""
    for part in path:
        text += f"[{part}]" if isinstance(part, int) else f".{part}" if text else str(part)
    return text
