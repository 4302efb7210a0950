"""Reading YAML, JSON and CSV strictly, with the place of every value kept, and telling what is
wrong where.

Strict means: UTF-8 only, one document, mappings with text keys, no duplicate keys, no aliases,
anchors or tags, bounded size, depth and length of a scalar. Scalars stay text until the type of a
field asks for something else, so none of the surprises of YAML 1.1 (`no`, `12:30`, `010`, `1e3`,
dates) can happen.
"""

from __future__ import annotations

import csv
import io
import json
import os
import re
import typing
import unicodedata
from collections.abc import Iterable, Sequence, Sized
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

from .errors import InputError, Problem, file_name, nearest_names, shown

if typing.TYPE_CHECKING:
    import yaml
    from pydantic import BaseModel, ValidationError

MOST_BYTES = 1 << 20
MOST_TABLE_BYTES = 64 << 20
MOST_DEPTH = 20
MOST_SCALAR = 20_000

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


def read_text(path: str | os.PathLike[str], most: int = MOST_BYTES) -> str:
    """The text of a file.

    Raises InputError with one problem when it is missing, a directory, binary, not UTF-8 ...
    """
    name = file_name(path)

    def refuse(code: str, what: str, expected: str, line: int | None = None) -> InputError:
        return InputError([Problem(code, what, expected, file=name, line=line)])

    try:
        if Path(path).is_dir():
            raise refuse(
                "directory",
                "this is a folder, not a file",
                "Give the path of a .yaml, .json or .csv file.",
            )
        with open(path, "rb") as stream:
            raw = stream.read(most + 1)
    except FileNotFoundError:
        folder = Path(path).parent
        near = (
            nearest_names(Path(path).name, [p.name for p in folder.iterdir()])
            if folder.is_dir()
            else ()
        )
        raise InputError(
            [
                Problem(
                    "missing",
                    "there is no such file",
                    "Give the path of a .yaml, .json or .csv file.",
                    file=name,
                    nearest=near,
                )
            ]
        ) from None
    except InputError:
        raise
    except (OSError, ValueError) as why:
        raise refuse(
            "unreadable",
            f"the file cannot be read ({getattr(why, 'strerror', None) or why})",
            "Give a file that may be read.",
        ) from None
    return decode(raw, name, most)


def decode(raw: bytes, name: str, most: int = MOST_BYTES) -> str:
    """Bytes as UTF-8 text, with or without a byte order mark."""

    def refuse(code: str, what: str, expected: str, line: int | None = None) -> InputError:
        return InputError([Problem(code, what, expected, file=name, line=line)])

    if len(raw) > most:
        raise refuse(
            "too-large",
            f"the file is larger than {most >> 20} MiB",
            "Split it, or give the file that was meant.",
        )
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise refuse("encoding", "the file is in UTF-16", "Save it as UTF-8.")
    if b"\x00" in raw:
        raise refuse("binary", "this is not a text file", "Give a .yaml, .json or .csv text file.")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as why:
        line = raw.count(b"\n", 0, why.start) + 1
        raise refuse(
            "encoding",
            f"the byte {raw[why.start]:#04x} is not UTF-8 (the file may be in Latin-1)",
            "Save it as UTF-8.",
            line,
        ) from None
    if not text.strip():
        raise refuse("empty", "the file is empty", "Write at least one lot, material or row.")
    return text


def _yaml_problem(why: Exception, name: str, text: str) -> Problem:
    unclosed = "quoted scalar" in str(getattr(why, "context", "")) and "end of stream" in str(
        getattr(why, "problem", "")
    )
    mark = getattr(why, "context_mark" if unclosed else "problem_mark", None) or getattr(
        why, "context_mark", None
    )
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (None, None)
    said = getattr(why, "problem", None) or str(why).split("\n")[0]
    lines = text.split("\n")
    here = lines[mark.line] if mark is not None and mark.line < len(lines) else ""
    if "\t" in here[: len(here) - len(here.lstrip())] or "\\t" in said:
        return Problem(
            "tab",
            "a tab stands where YAML wants spaces",
            "Indent with spaces.",
            file=name,
            line=line,
            column=column,
        )
    if unclosed:
        return Problem(
            "unclosed-quote",
            "a quote is opened here and never closed",
            "Close it at the end of the text.",
            file=name,
            line=line,
            column=column,
        )
    if "nesting depth" in said:
        return _too_deep(name, line, column)
    if "special characters" in said or "control characters" in said:
        line, column = _place_of_control(text)
        return Problem(
            "binary",
            "a control character stands in the text",
            "Delete it, and save as UTF-8.",
            file=name,
            line=line,
            column=column,
        )
    return Problem(
        "not-yaml",
        f"this is not YAML that can be read: {shown(said, 90)}",
        "Write `field: value`, one a line; put text that holds a colon or a quote in quotes.",
        file=name,
        line=line,
        column=column,
    )


def _too_deep(name: str, line: int | None = None, column: int | None = None) -> Problem:
    return Problem(
        "depth",
        f"values are nested more than {MOST_DEPTH} deep",
        "Write a flatter file.",
        file=name,
        line=line,
        column=column,
    )


def _place_of_control(text: str) -> tuple[int | None, int | None]:
    for number, line in enumerate(text.split("\n"), 1):
        for column, sign in enumerate(line, 1):
            if sign not in "\t\r\x85" and unicodedata.category(sign) in ("Cc", "Cs", "Cn"):
                return number, column
    return None, None


def read_yaml(text: str, name: str, null: str = "") -> Located:
    """Parse strictly.

    Raises InputError with all problems found (a syntax error hides what stands below it).

    `null` is the bare word that stands for nothing; there is none in YAML, where a field without a
    value is nothing.
    """
    import yaml

    deep = _nests_deep(text) if _may_nest_deep(text) else None
    if deep is not None:
        raise InputError([_too_deep(name, *deep)])
    loader: Any = _plain_loader()(text)
    try:
        root = loader.get_single_node()
    except yaml.YAMLError as why:
        problem = _yaml_problem(why, name, text)
        if "single document" in str(why):
            problem = Problem(
                "documents",
                "a second document begins here",
                "Keep one document a file: delete the line ---.",
                file=name,
                line=problem.line,
                column=problem.column,
            )
        elif "undefined alias" in str(why):
            problem = Problem(
                "alias",
                "an alias (*) stands here",
                "Write the value out.",
                file=name,
                line=problem.line,
                column=problem.column,
            )
        raise InputError([problem]) from None
    except RecursionError:
        raise InputError([_too_deep(name)]) from None
    except (ValueError, UnicodeError) as why:
        raise InputError(
            [
                Problem(
                    "not-yaml",
                    f"this cannot be read as YAML ({shown(str(why))})",
                    "Write a plain mapping.",
                    file=name,
                )
            ]
        ) from None
    finally:
        loader.dispose()
    walker = _Walker(name, text, null)
    if root is None:
        raise InputError(
            [
                Problem(
                    "empty",
                    "the file holds nothing but comments",
                    "Write at least one lot, material or row.",
                    file=name,
                )
            ]
        )
    data = walker.walk(root, (), 0)
    if walker.problems:
        raise InputError(walker.problems)
    return Located(data, name, walker.places, walker.keys)


_COMPOSED_DEPTH = 100
"""What is composed at all.

Composing is recursive, and some builds of the C library end the process when it goes too deep.
"""
_BRACKET_RE = re.compile(r"[][{}]")
_INDENT_RE = re.compile(rf"^[ ?-]{{{_COMPOSED_DEPTH},}}", re.MULTILINE)


def _may_nest_deep(text: str) -> bool:
    """A quick look that errs on the side of yes: open brackets, and what stands before the first
    word of a line.
    """
    depth = deepest = 0
    for found in _BRACKET_RE.finditer(text):
        depth += 1 if found.group() in "[{" else -1
        deepest = max(deepest, depth)
    return deepest > _COMPOSED_DEPTH or _INDENT_RE.search(text) is not None


def _nests_deep(text: str) -> Place | None:
    """Where it goes too deep, if it does: levels are counted from the parser's events, which come
    without recursion.
    """
    import yaml

    depth = 0
    try:
        for event in yaml.parse(text, Loader=_plain_loader()):
            if isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
                depth += 1
                if depth > _COMPOSED_DEPTH:
                    mark: Any = event.start_mark
                    return mark.line + 1, mark.column + 1
            elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
                depth -= 1
    except (yaml.YAMLError, ValueError):
        return None  # told when it is composed, which goes no deeper than this
    return None


@lru_cache(maxsize=1)
def _plain_loader() -> Any:
    """The C loader where there is one, without any idea of numbers, dates and truth: every scalar
    is text.
    """
    import yaml

    base: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    return type("PlainLoader", (base,), {"yaml_implicit_resolvers": {}})


class _Walker:
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
            return [self.walk(each, (*path, i), depth + 1) for i, each in enumerate(node.value)]
        return self._mapping(node, path, depth)

    def _mapping(self, node: Any, path: Path_, depth: int) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for key_node, value_node in node.value:
            if isinstance(key_node, (self.mapping, self.sequence)):
                self.wrong(
                    "key",
                    "a key is a list or a mapping",
                    "Write a plain word as key.",
                    key_node,
                    path,
                )
                continue
            key = str(key_node.value)
            here = (*path, key)
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
            if key in found:
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
            found[key] = self.walk(value_node, here, depth + 1)
        return found

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


def read_json(text: str, name: str) -> Located:
    """JSON with places. Raises InputError."""

    def constant(word: str) -> Any:
        raise ValueError(f"{word} is not a number that JSON knows")

    try:
        # numbers stay text, as everywhere
        json.loads(text, parse_constant=constant, parse_int=str, parse_float=str)
    except json.JSONDecodeError as why:
        raise InputError(
            [
                Problem(
                    "not-json",
                    f"this is not JSON: {why.msg}",
                    "Mend it, or write YAML in a .yaml file.",
                    file=name,
                    line=why.lineno,
                    column=why.colno,
                )
            ]
        ) from None
    except RecursionError:
        raise InputError([_too_deep(name)]) from None
    except ValueError as why:
        line, column = _place_of_constant(text)
        raise InputError(
            [
                Problem(
                    "not-json",
                    f"this is not JSON: {shown(str(why))}",
                    "Mend it, or write YAML in a .yaml file.",
                    file=name,
                    line=line,
                    column=column,
                )
            ]
        ) from None
    # JSON is YAML but for tabs, two escapes and three signs that break a line in YAML
    return read_yaml(_ESCAPE_RE.sub(_escape_for_yaml, text.replace("\t", " ")), name, null="null")


_ESCAPE_RE = re.compile(
    r"\\u([dD][89abAB][0-9a-fA-F]{2})\\u([dD][c-fC-F][0-9a-fA-F]{2})|\\.|[\x85\u2028\u2029]"
)
_BREAKS = {"\x85": "\\N", "\u2028": "\\L", "\u2029": "\\P", "\\/": "/"}


def _escape_for_yaml(found: re.Match[str]) -> str:
    if found[1]:
        return (
            f"\\U{0x10000 + ((int(found[1], 16) - 0xD800) << 10) + int(found[2], 16) - 0xDC00:08x}"
        )
    return _BREAKS.get(found[0], found[0])


def _place_of_constant(text: str) -> tuple[int | None, int | None]:
    for found in re.finditer(r'"(?:\\.|[^"\\])*"|NaN|-?Infinity', text):
        if found[0][0] != '"':
            return text.count("\n", 0, found.start()) + 1, found.start() - text.rfind(
                "\n", 0, found.start()
            )
    return None, None


@dataclass(slots=True)
class CsvRows:
    """The rows of a CSV file as mappings of text, with the line of each and the place of every
    cell.
    """

    rows: list[dict[str, str]]
    places: dict[Path_, Place]


def read_csv(text: str, name: str, known: Sequence[str]) -> CsvRows:
    """Comma-separated rows under a header of field names; `known` are the names that a header may
    hold.
    """
    stream = csv.reader(io.StringIO(text, newline=""), strict=True)
    problems: list[Problem] = []
    rows: list[dict[str, str]] = []
    places: dict[Path_, Place] = {}
    header: list[str] | None = None
    ended = 0
    try:
        for cells in stream:
            ended = stream.line_num
            if not any(cell.strip() for cell in cells):
                continue
            if header is None:
                header = [cell.strip() for cell in cells]
                problems += _header_problems(header, name, known, stream.line_num)
                if problems:
                    break
                continue
            line = stream.line_num
            if len(cells) != len(header):
                problems.append(_row_length(cells, header, name, line))
                continue
            index = len(rows)
            rows.append(
                {key: cell.strip() for key, cell in zip(header, cells, strict=True) if cell.strip()}
            )
            places[(index,)] = (line, 1)
            for column, key in enumerate(header, 1):
                places[(index, *key.split("."))] = (line, column)
    except csv.Error as why:
        said = (
            "a quote is opened in this row and never closed"
            if "end of data" in str(why)
            else f"this is not CSV: {why}"
        )
        problems.append(
            Problem(
                "not-csv",
                said,
                "Close every quote, and save as comma-separated text.",
                file=name,
                line=ended + 1,
            )
        )
    if problems:
        raise InputError(problems)
    if not rows:
        raise InputError(
            [
                Problem(
                    "empty",
                    "there is no row under the header",
                    "Write one row a lot.",
                    file=name,
                    line=1,
                )
            ]
        )
    return CsvRows(rows, places)


def _header_problems(
    header: list[str], name: str, known: Sequence[str], line: int
) -> list[Problem]:
    if sum(key.count(";") for key in header) >= len(header):
        return [
            Problem(
                "semicolon",
                "the fields are separated by semicolons",
                "Save the sheet with commas between fields and points in numbers.",
                file=name,
                line=line,
            )
        ]
    if sum(key.count("\t") for key in header) >= len(header):
        return [
            Problem(
                "tab",
                "the fields are separated by tabs",
                "Save the sheet with commas between fields.",
                file=name,
                line=line,
            )
        ]
    problems = []
    for column, key in enumerate(header, 1):
        where = {"file": name, "line": line, "column": column}
        if not key:
            problems.append(
                Problem(
                    "header",
                    f"column {column} has no name",
                    "Name it, or delete the column.",
                    **where,
                )
            )  # type: ignore[arg-type]
        elif key not in known:
            problems.append(
                Problem(
                    "unknown-field",
                    f"'{shown(key)}' is not a field of a lot",
                    f"Fields: {', '.join(known)}.",
                    key,
                    nearest=nearest_names(key, known),
                    **where,
                )
            )  # type: ignore[arg-type]
        elif header.index(key) != column - 1:
            problems.append(
                Problem(
                    "duplicate-key",
                    f"the column '{shown(key)}' stands a second time",
                    "Keep one of the two.",
                    key,
                    **where,
                )
            )  # type: ignore[arg-type]
    return problems


def _row_length(cells: list[str], header: list[str], name: str, line: int) -> Problem:
    what = f"the row has {len(cells)} fields where the header has {len(header)}"
    if len(cells) > len(header) and any(
        a.strip()[-1:].isdigit() and b.strip()[:1].isdigit() for a, b in pairwise(cells)
    ):
        return Problem(
            "comma",
            f"{what}; a number may hold a decimal comma",
            "Write 1.5, not 1,5.",
            file=name,
            line=line,
        )
    return Problem(
        "row-length",
        what,
        "Give every row as many fields as the header; put text that holds a comma in quotes.",
        file=name,
        line=line,
    )


def problems_of(
    error: ValidationError,
    model: type[BaseModel],
    located: Located | None = None,
    prefix: Path_ = (),
) -> list[Problem]:
    """pydantic's errors as problems, each with its place and with our words."""
    found = [problem for _, problem in told_problems(error, model, located, prefix)]
    return (
        sorted(found, key=lambda p: (p.line or 0, p.column or 0)) if located is not None else found
    )


def told_problems(
    error: ValidationError,
    model: type[BaseModel],
    located: Located | None = None,
    prefix: Path_ = (),
) -> list[tuple[Path_, Problem]]:
    """As `problems_of`, each with the path at which pydantic found it."""
    found = []
    for each in error.errors(include_url=False):
        if (
            each["type"] == "too_short"
            and isinstance(each["input"], Sized)
            and len(each["input"]) >= each["ctx"]["min_length"]
        ):
            # it counts what is left when the wrong entries are gone, and those are told themselves
            continue
        path = (*prefix, *(p for p in each["loc"] if p not in {"[key]"}))
        if path[-2:] == ("moisture", "value"):
            path = path[
                :-1
            ]  # the field that a plain text stands for is not one that a person wrote
        found.append((path, _problem_of(dict(each), path, model, located)))
    return found


_BOUNDS = {
    "less_than_equal": "at most",
    "less_than": "less than",
    "greater_than_equal": "at least",
    "greater_than": "more than",
}

_PLAIN = {
    "missing": ("missing-field", "the field is missing", "Write {field}: and its value."),
    "int_parsing": (
        "not-a-number",
        "'{given}' is not a whole number",
        "Write a whole number without a unit.",
    ),
    "int_from_float": (
        "not-a-number",
        "'{given}' is not a whole number",
        "Write a whole number without a unit.",
    ),
    "int_type": (
        "not-a-number",
        "'{given}' is not a whole number",
        "Write a whole number without a unit.",
    ),
    "float_parsing": ("not-a-number", "'{given}' is not a number", "Write a number."),
    "float_type": ("not-a-number", "'{given}' is not a number", "Write a number."),
    "finite_number": ("not-finite", "'{given}' is not a finite number", "Write a number."),
    "bool_parsing": ("not-yes-or-no", "'{given}' is neither yes nor no", "Write yes or no."),
    "bool_type": ("not-yes-or-no", "'{given}' is neither yes nor no", "Write yes or no."),
    "string_type": ("not-text", "a text is wanted, not {given}", "Write plain text."),
    "tuple_type": (
        "not-a-list",
        "a list is wanted, not '{given}'",
        "Write [first, second], or one a line after a dash.",
    ),
    "list_type": (
        "not-a-list",
        "a list is wanted, not '{given}'",
        "Write [first, second], or one a line after a dash.",
    ),
    "dict_type": (
        "not-a-mapping",
        "a mapping is wanted, not '{given}'",
        "Write `field: value`, one a line.",
    ),
    "model_type": (
        "not-a-mapping",
        "a mapping is wanted, not '{given}'",
        "Write `field: value`, one a line.",
    ),
    "model_attributes_type": (
        "not-a-mapping",
        "a mapping is wanted, not '{given}'",
        "Write `field: value`, one a line.",
    ),
    "string_too_long": (
        "too-long",
        "the text is too long",
        "Write at most {max_length} characters.",
    ),
    "too_long": ("too-long", "the list is too long", "Write at most {max_length} entries."),
    "int_parsing_size": (
        "not-a-number",
        "'{given}' is not a whole number",
        "Write a whole number without a unit.",
    ),
    "string_too_short": ("empty", "the text is empty", "Write something, or leave the field out."),
    "too_short": ("empty", "the list is empty", "Write at least one."),
}


def _problem_of(
    each: dict[str, Any], path: Path_, model: type[BaseModel], located: Located | None
) -> Problem:
    kind, context = each["type"], each.get("ctx", {})
    given = shown(each.get("input"))
    nearest: tuple[str, ...] = ()
    if kind == "feedstock":
        code, what, expected, nearest = (
            context["code"],
            context["what"],
            context["expected"],
            tuple(context["nearest"]),
        )
        path = (*path, *context["at"])
    elif kind == "extra_forbidden":
        names = field_names(model, path[:-1])
        code, what = "unknown-field", f"'{shown(str(path[-1]))}' is not a field here"
        expected, nearest = f"Fields: {', '.join(names)}.", nearest_names(str(path[-1]), names)
    elif kind in _PLAIN:
        code, what, expected = _PLAIN[kind]
        what = (
            what.format(given=given)
            if each.get("input") is not None
            else what.replace("'{given}'", "nothing").format(given="nothing")
        )
        expected = expected.replace("{field}", str(path[-1]) if path else "it")
        expected = (
            expected.format(max_length=context.get("max_length", ""))
            if "{max" in expected
            else expected
        )
    elif kind in {"literal_error", "enum"}:
        code, what, expected = (
            "unknown-word",
            f"'{given}' is not a word that is known here",
            f"Write {context.get('expected', '')}.",
        )
    else:
        code, what, expected = (
            kind.replace("_", "-"),
            f"'{given}': {each['msg'][:1].lower()}{each['msg'][1:]}",
            "Mend it.",
        )
    if kind in _BOUNDS:
        bound = next(iter(v for k, v in context.items() if k in ("le", "lt", "ge", "gt")), "")
        code, what, expected = (
            "out-of-range",
            f"'{given}' is out of range",
            f"Write {_BOUNDS[kind]} {bound}.",
        )
    line = column = None
    if located is not None:
        place = located.place(path, key=kind in {"extra_forbidden"})
        line, column = place if place else (None, None)
    return Problem(
        code,
        what,
        expected,
        path_text(path),
        given,
        located.file if located else None,
        line,
        column,
        nearest,
    )


def field_names(model: Any, path: Path_) -> list[str]:
    """The names of the fields that the model has at a path."""
    for part in path:
        model = _inner_model(model, part)
        if model is None:
            return []
    return [info.alias or name for name, info in getattr(model, "model_fields", {}).items()]


def _inner_model(model: Any, part: str | int) -> Any:
    if isinstance(part, int) or not hasattr(model, "model_fields"):
        return model
    info = model.model_fields.get(part)
    return (
        _model_in(info.annotation)
        if info
        else (model if not hasattr(model, "model_fields") else None)
    )


def _model_in(annotation: Any) -> Any:
    if hasattr(annotation, "model_fields"):
        return annotation
    for inner in typing.get_args(annotation):
        if isinstance(inner, type) or typing.get_args(inner):
            found = _model_in(inner)
            if found is not None:
                return found
    return None
