"""Walks a composed YAML document: positions kept, scalars as text, traps refused."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ..errors import Problem, shown
from ..quantities.parse import without_comma
from .positions import Path_, Place, path_text

if TYPE_CHECKING:
    import yaml


MOST_DEPTH = 20


MOST_SCALAR = 20_000


def too_deep(name: str, line: int | None = None, column: int | None = None) -> Problem:
    """What is said of a document that is nested too deep."""
    return Problem(
        "depth",
        f"values are nested more than {MOST_DEPTH} deep",
        "Write a flatter file.",
        file=name,
        line=line,
        column=column,
    )


class Walker:
    """Turns composed nodes into plain data; keeps the place of each; collects what the strict form
    forbids.
    """

    def __init__(self, name: str, text: str, null: str = "") -> None:
        import yaml

        self.name, self.null, self.problems = name, null, list[Problem]()
        self.places: dict[Path_, Place] = {}
        self.keys: dict[Path_, Place] = {}
        self.seen: set[int] = set()
        self.mapping, self.sequence = yaml.MappingNode, yaml.SequenceNode
        # a node does not remember its anchor or tag as written: the text is asked where there is
        # any such sign
        self.suspect = "&" in text or "!" in text or "*" in text
        self.lines = text.split("\n") if self.suspect else []

    def wrong(self, code: str, what: str, expected: str, node: yaml.Node, path: Path_) -> None:
        mark = node.start_mark
        self.problems.append(
            Problem(
                code, what, expected, path_text(path), "", self.name, mark.line + 1, mark.column + 1
            )
        )

    def walk(self, node: Any, path: Path_, depth: int) -> Any:
        mark = node.start_mark
        self.places[path] = (mark.line + 1, mark.column + 1)
        scalar = not isinstance(node, (self.mapping, self.sequence))
        if self.suspect and not self._plain(node, path):
            return None
        if scalar:
            return self._scalar(node, path)
        if id(node) in self.seen:
            self.wrong(
                "alias", "the same node stands in two places", "Write the value out.", node, path
            )
            return None
        self.seen.add(id(node))
        if depth >= MOST_DEPTH:
            self.wrong(
                "depth",
                f"values are nested more than {MOST_DEPTH} deep",
                "Write a flatter file.",
                node,
                path,
            )
            return None
        if isinstance(node, self.sequence):
            return [self.walk(item, (*path, i), depth + 1) for i, item in enumerate(node.value)]
        return self._mapping(node, path, depth)

    def _mapping(self, node: Any, path: Path_, depth: int) -> dict[str, Any]:
        mapping: dict[str, Any] = {}
        before: Any = None
        for key_node, value_node in node.value:
            before, last = value_node, before
            if isinstance(key_node, (self.mapping, self.sequence)):
                what = "a key is a list or a mapping"
                self.wrong("key", what, "Write a plain word as key.", key_node, path)
                continue
            key = str(key_node.value)
            here = (*path, key)
            if last is not None and self._cut_number(last, key_node, value_node, path):
                continue
            if self.suspect and not self._plain(key_node, here):
                continue
            if key == "<<":
                self.wrong(
                    "merge-key",
                    "a merge key (<<) stands here",
                    "Write the fields out (a row of a table can use `like`).",
                    key_node,
                    path,
                )
                continue
            if not key or len(key) > 200:
                self.wrong(
                    "key",
                    "a key is empty or too long",
                    "Write a plain word as key.",
                    key_node,
                    path,
                )
                continue
            mark = key_node.start_mark
            if key in mapping:
                first = self.keys[here]
                self.wrong(
                    "duplicate-key",
                    f"'{shown(key)}' stands a second time (first in line {first[0]})",
                    "Keep one of the two.",
                    key_node,
                    path,
                )
                continue
            self.keys[here] = (mark.line + 1, mark.column + 1)
            mapping[key] = self.walk(value_node, here, depth + 1)
        return mapping

    def _cut_number(self, before: Any, key: Any, value: Any, path: Path_) -> bool:
        """Whether a decimal comma in braces has cut a number in two, which is then told."""
        scalars = all(isinstance(scalar.value, str) for scalar in (before, key, value))
        text = f"{before.value},{key.value}" if scalars and not value.value else ""
        plain = without_comma(text)
        if plain == text or key.start_mark.index != before.end_mark.index + 1:
            return False
        self.wrong(
            "comma", f"'{shown(text)}' has a comma in its number", f"Write {plain}.", before, path
        )
        return True

    def _scalar(self, node: Any, path: Path_) -> str | None:
        text = str(node.value)
        if len(text) > MOST_SCALAR:
            self.wrong(
                "too-long",
                f"a text of {len(text)} characters stands here",
                f"Write at most {MOST_SCALAR}.",
                node,
                path,
            )
            return None
        # the C loader gives a plain scalar the style "", the other one None
        return None if text in ("", self.null) and not node.style else text

    def _plain(self, node: Any, path: Path_) -> bool:
        """Whether node stands there without anchor, alias or tag."""
        mark = node.start_mark
        line = self.lines[mark.line] if mark.line < len(self.lines) else ""
        sign = line[mark.column : mark.column + 1]
        kind = {
            "&": ("anchor", "an anchor (&)"),
            "*": ("alias", "an alias (*)"),
            "!": ("tag", "a tag (!)"),
        }.get(sign)
        if kind is None:
            return True
        self.wrong(
            kind[0],
            f"{kind[1]} stands here",
            "Write the plain value; put text that begins with such a sign in quotes.",
            node,
            path,
        )
        return False
