"""Puts the compiled reference tables into wheel and sdist while they are built."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class CompiledTables(BuildHookInterface):  # type: ignore[misc,unused-ignore]
    """Reads and checks the tables as they stand in the source, and adds what came of it.

    An editable install has none: there the files of the checkout are read, and kept.
    """

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Add the file to what is built."""
        if version == "editable":
            return
        sys.path.insert(0, self.root)
        from feedstock.tables.loading.kept import FOLDER, INSIDE, NAME
        from feedstock.tables.loading.layers import compiled_reference

        wheel = self.target_name == "wheel"
        self._made = Path(tempfile.mkdtemp())
        path = self._made / NAME
        path.write_bytes(compiled_reference(with_code=not wheel))
        inside = f"feedstock/{INSIDE}/{FOLDER}" if wheel else FOLDER
        build_data["force_include"][str(path)] = f"{inside}/{NAME}"
