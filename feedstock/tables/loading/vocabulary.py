"""Classes and forms of feedstock: each word that a row uses stands in the vocabulary of a set."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ...errors import Problem, nearest_names, shown
from ..rows.burner import Burner
from ..rows.contaminant import Clears, Condition, Contaminant
from ..rows.material import Material
from ..rows.methods.vocabulary import FeedClass, FeedClasses, FeedForm, FeedForms
from ..rows.row import Row
from .overlay import MergedSets
from .raw import RawRow

Rows = Mapping[str, Mapping[str, Row]]


def give_meaning(
    laid: MergedSets, rows: Rows, methods: Iterable[Row], problems: list[Problem]
) -> None:
    """Tell every material of some rows what its class and form mean by the methods of all; append a
    problem for every unknown word.
    """
    methods = list(methods)
    classes = {k: v for row in methods if isinstance(row, FeedClasses) for k, v in row.of.items()}
    forms = {k: v for row in methods if isinstance(row, FeedForms) for k, v in row.of.items()}
    for row_id, row in rows["materials"].items():
        if isinstance(row, Material):
            row.means(
                classes.get(row.class_ or "", FeedClass()), forms.get(row.form or "", FeedForm())
            )
            raw = laid.rows["materials"][row_id]
            if "class" in raw.data:
                _check(raw, "class", (row.class_,), classes, ("class",), problems)
            if "form" in raw.data:
                _check(raw, "form", (row.form,), forms, ("form",), problems)
    for row_id, row in rows["burners"].items():
        if isinstance(row, Burner) and row.reference is not None:
            raw, words = laid.rows["burners"][row_id], (row.reference.class_,)
            _check(raw, "class", words, classes, ("reference", "class"), problems)
    for raw, condition, path in _conditions(laid, rows):
        _check(raw, "class", condition.classes, classes, (*path, "classes"), problems)
        _check(raw, "form", condition.forms, forms, (*path, "forms"), problems)


def _conditions(
    laid: MergedSets, rows: Rows
) -> Iterable[tuple[RawRow, Condition, tuple[str | int, ...]]]:
    for row_id, row in rows["contaminants"].items():
        if isinstance(row, Contaminant):
            for number, rule in enumerate(row.raised_by):
                yield laid.rows["contaminants"][row_id], rule, ("raised_by", number)
    for row_id, row in rows["clears"].items():
        if isinstance(row, Clears):
            yield laid.rows["clears"][row_id], row.when, ("when",)
            if row.unless is not None:
                yield laid.rows["clears"][row_id], row.unless, ("unless",)


def _check(
    raw: RawRow,
    kind: str,
    words: Iterable[str | None],
    words_known: Mapping[str, object],
    path: tuple[str | int, ...],
    problems: list[Problem],
) -> None:
    for word in words:
        if word is not None and word not in words_known:
            what = f"'{shown(word)}' is not a {kind} that is known here"
            remedy = f"Write one of {', '.join(words_known)}, or add it to a method of kind feed-"
            remedy += "classes." if kind == "class" else "forms."
            nearest = nearest_names(word, words_known)
            problems.append(raw.problem("unknown-word", what, remedy, path, nearest))
