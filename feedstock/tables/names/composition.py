"""A material as a person names it: a row by its name, or a plant, a form and a state."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ...quantities.cell import Cell
from ...quantities.frozen import frozen, record
from ..rows.material import Material
from ..rows.methods.language import Form, State
from .compiled import language_of
from .language import Language
from .text import Token, words_of
from .trie import Entry, Role

if TYPE_CHECKING:
    from ..tables import Tables

_ROLES = ("plant", "form", "material", "state", "plain")


@frozen
class ReadAs:
    """How a name was read: the rows and words of each role, in the words of the tables."""

    material: str
    plants: tuple[str, ...] = ()
    forms: tuple[str, ...] = ()
    states: tuple[str, ...] = ()
    thickness: Cell | None = None


@frozen
class Reading:
    """What a name means: the material row, and what its form and state set (None: nothing).

    `history` is the worse of row and form. `exact` says that the name is a row's own, `grown` that
    its form is one in which wood grows, as branches are.
    """

    material: str
    form: str | None
    thickness: Cell | None
    packing: str | None
    decay: int | None
    condition: str | None
    history: str | None
    read_as: ReadAs
    exact: bool = False
    grown: bool = False


@frozen
class Refusal:
    """Why a name is not understood.

    `code` is `unknown-words`, `ask-back` (a word of two meanings alone), `two-plants` (write two
    lots), `no-such-form` (the plant has no such part), `no-material` (no word says what it is).
    """

    code: str
    understood: tuple[str, ...] = ()
    not_understood: tuple[str, ...] = ()
    plants: tuple[str, ...] = ()
    form: str = ""


@record
class _Parts:
    """The words of a name by role, each a meaning and the words as written."""

    found: list[tuple[Entry, ...]]
    written: list[str]
    unknown: list[str]

    def of(self, role: Role) -> list[Entry]:
        return [e for entries in self.found for e in entries[:1] if e.role == role]


def read_material(tables: Tables, text: str, language: str | None = None) -> Reading | Refusal:
    """The material that `text` names, by a row's own name first, then by plant, form and state.

    With `language` names of that language and English alone are taken where a word has meanings
    in several.
    """
    vocabulary = language_of(tables)
    if words_of(text) in vocabulary.homonyms:
        return Refusal("ask-back", (), (text.strip(),))
    exact = tables.index("materials").find(text)
    if len(exact) == 1:
        return _of_row(tables, exact[0])
    words = vocabulary.split(text)
    parts = _parts(vocabulary, words, text, language)
    if parts.unknown or not words:
        in_a_state = _row_in_a_state(tables, vocabulary, words, text, language)
        if in_a_state is not None:
            return in_a_state
        return Refusal("unknown-words", tuple(parts.written), tuple(parts.unknown))
    return _composed(tables, vocabulary, parts)


def _of_row(tables: Tables, row_id: str) -> Reading:
    row = tables.material(row_id)
    name = row.display(row_id.partition(":")[2])
    return Reading(
        row_id, row.form, row.thickness, None, None, None, row.history, ReadAs(name), exact=True
    )


def _row_in_a_state(
    tables: Tables, vocabulary: Language, words: list[Token], text: str, language: str | None
) -> Reading | None:
    """A row by its own name behind words of state, `rotten fence posts`: the state is carried, and
    all else is the row's.
    """
    for at in range(1, len(words)):
        before = _parts(vocabulary, words[:at], text, language)
        if before.unknown or len(before.of("state")) != len(before.found):
            continue
        name = text[words[at].start :]
        row_ids = tables.index("materials").find(name)
        if len(row_ids) == 1 and words_of(name) not in vocabulary.homonyms:
            states = [vocabulary.states[e.of] for e in before.of("state")]
            return _reading(tables, vocabulary, row_ids[0], [], None, states, (), before)
    return None


def _parts(vocabulary: Language, words: list[Token], text: str, language: str | None) -> _Parts:
    """A name cut into the longest phrases; where a word has several roles, a plant stands before a
    form, a form before a state.
    """
    parts = _Parts([], [], [])
    stems = [word.stem for word in words]
    at = 0
    while at < len(words):
        end, entries = vocabulary.composed.longest(stems, at)
        if not entries:
            end, entries = vocabulary.asides.longest(stems, at)
        span = text[words[at].start : words[max(end, at + 1) - 1].end]
        if entries:
            order = sorted(
                entries,
                key=lambda e: (_foreign(e, language), _ROLES.index(e.role)),
            )
            parts.found.append(tuple(order))
            parts.written.append(span)
            if order[0].role == "plain" and _is_joined_to_a_form(vocabulary, words, at):
                parts.unknown.append(span)  # `sunwood` names no wood
        elif not words[at].word.isdigit():
            parts.unknown.append(span)
        at = max(end, at + 1)
    # of a closed compound that is known in part the whole word is not understood
    parts.unknown = list(dict.fromkeys(parts.unknown))
    parts.written = [word for word in parts.written if word not in parts.unknown]
    return parts


def _is_joined_to_a_form(vocabulary: Language, words: list[Token], at: int) -> bool:
    """Whether a word was taken out of a closed compound, before a form of plant matter."""
    if at + 1 == len(words) or words[at + 1].start != words[at].start:
        return False
    return any(e.role == "form" for e in vocabulary.composed.longest([words[at + 1].stem])[1])


def _foreign(entry: Entry, language: str | None) -> bool:
    return entry.language not in (language or "en", "en", "la")


def _composed(tables: Tables, vocabulary: Language, parts: _Parts) -> Reading | Refusal:
    plants = list(dict.fromkeys(e.of for e in parts.of("plant")))
    forms = _forms(vocabulary, parts, plants)
    states = [vocabulary.states[e.of] for e in parts.of("state")]
    materials = list(dict.fromkeys(e.of for e in parts.of("material")))
    names = tuple(dict.fromkeys(_plant_name(vocabulary, entry) for entry in parts.of("plant")))
    form_key = _leading(forms)
    form = forms.get(form_key)
    if all(vocabulary.plants[plant].grows == "animal" for plant in plants):
        # `pony muck and straw`: the straw is what it lay on
        forms = {k: f for k, f in forms.items() if not _refused(vocabulary, plants, f, k)} or forms
        form_key = _leading(forms)
        form = forms.get(form_key)
    wrong = next((key for key in forms if _refused(vocabulary, plants, forms[key], key)), None)
    if wrong is not None:
        return Refusal("no-such-form", tuple(parts.written), (), names, _first(forms[wrong].names))
    row = _row(tables, vocabulary, plants, materials, form, form_key)
    if isinstance(row, Refusal):
        return replace(row, understood=tuple(parts.written), plants=names)
    return _reading(tables, vocabulary, row, list(forms.values()), form, states, names, parts)


def _forms(vocabulary: Language, parts: _Parts, plants: list[str]) -> dict[str, Form]:
    """The forms; of a word for several, the first that the plants have."""
    forms: dict[str, Form] = {}
    for entries in parts.found:
        if entries[0].role == "form":
            keys = [e.of for e in entries if e.role == "form"]
            fitting = [
                key for key in keys if not _refused(vocabulary, plants, vocabulary.forms[key], key)
            ]
            key = (fitting or keys)[0]
            forms[key] = vocabulary.forms[key]
    return forms


def _first(names: dict[str, tuple[str, ...]]) -> str:
    english = names.get("en") or next(iter(names.values()), ())
    return english[0] if english else ""


def _plant_name(vocabulary: Language, entry: Entry) -> str:
    """A plant as it is told: by the first name of its own row, and as it was written where several
    plants share one.
    """
    english = vocabulary.plants[entry.of].names.get("en", ())
    own = ":" in entry.of or (len(english) == 1 and entry.language != "en")
    return english[0] if english and own else entry.phrase


def _leading(forms: dict[str, Form]) -> str:
    """Of several forms the one that says most: one that is a row of its own, else the last that
    says something.
    """
    telling = [key for key, form in forms.items() if not form.says_little] or list(forms)
    own = [key for key in telling if forms[key].row]
    return own[0] if own else telling[-1] if telling else ""


def _refused(vocabulary: Language, plants: list[str], form: Form, key: str) -> bool:
    """Whether one of the plants has no such part."""
    return any(
        form.grows
        and vocabulary.plants[p].grows not in form.grows
        and key not in vocabulary.plants[p].forms
        for p in plants
    )


def _family_row(tables: Tables, vocabulary: Language, plant: str) -> str:
    row = vocabulary.plants[plant].row or vocabulary.families[vocabulary.plants[plant].family].row
    return tables.find("materials", row)


def _row(
    tables: Tables,
    vocabulary: Language,
    plants: list[str],
    materials: list[str],
    form: Form | None,
    form_key: str,
) -> str | Refusal:
    """The material row of some plants in a form."""
    if len(materials) > 1 or (materials and plants):
        shared = _shared_form(tables, vocabulary, materials, plants) if plants else None
        if shared is not None:
            return shared
        rows = {*materials, *(_family_row(tables, vocabulary, plant) for plant in plants)}
        return materials[0] if len(rows) == 1 else Refusal("two-plants")
    if materials:
        return materials[0]
    if not plants:
        alone = form.alone or form.row if form is not None else None
        return tables.find("materials", alone) if alone else Refusal("no-material")
    own = _named_together(tables, vocabulary, plants, form)
    if own is not None:
        return own
    if form is not None and form.row:
        return tables.find("materials", form.row)
    rows = {_family_row(tables, vocabulary, plant) for plant in plants}
    if len(rows) == 1:
        return next(iter(rows))
    families = {vocabulary.plants[plant].family for plant in plants}
    if len(families) > 1:
        return Refusal("two-plants")
    return tables.find("materials", vocabulary.families[families.pop()].row)


def _shared_form(
    tables: Tables, vocabulary: Language, materials: list[str], plants: list[str]
) -> str | None:
    """The row of a form that has one of its own, where a material is that form of a plant and other
    plants stand before it: `hickory and maple leaves` are leaves.
    """
    rows = set()
    for row_id in materials:
        name = tables.material(row_id).display(row_id.partition(":")[2])
        _, entries = vocabulary.composed.longest(list(words_of(name))[-1:])
        forms = {e.of: vocabulary.forms[e.of] for e in entries if e.role == "form"}
        if any(_refused(vocabulary, plants, form, key) for key, form in forms.items()):
            return None
        rows.add(next((form.row for form in forms.values() if form.row), None))
    row = rows.pop() if len(rows) == 1 else None
    return tables.find("materials", row) if row else None


def _named_together(
    tables: Tables, vocabulary: Language, plants: list[str], form: Form | None
) -> str | None:
    """The row whose own name is this plant with this form: `oak leaves`, `walnut shells`."""
    if form is None or len(plants) != 1 or not form.row:
        return None
    index = tables.index("materials")
    for plant in vocabulary.plants[plants[0]].names.get("en", ()):
        for word in form.names.get("en", ()):
            row_ids = index.find(f"{plant} {word}")
            if len(row_ids) == 1:
                return row_ids[0]
    return None


def _reading(
    tables: Tables,
    vocabulary: Language,
    row_id: str,
    forms: list[Form],
    form: Form | None,
    states: list[State],
    names: tuple[str, ...],
    parts: _Parts,
) -> Reading:
    row: Material = tables.material(row_id)
    needed = row.history == "needed" or any(of_form.history for of_form in forms)
    decay = max((s.decay for s in states if s.decay is not None), default=None)
    condition = next((s.condition for s in states if s.condition), None)
    thickness = form.thickness if form is not None else None
    read_as = ReadAs(
        row.display(row_id.partition(":")[2]),
        names,
        tuple(dict.fromkeys(_first(of_form.names) for of_form in forms)),
        tuple(dict.fromkeys(e.phrase for e in parts.of("state") if _says(vocabulary, e))),
        thickness or row.thickness,
    )
    return Reading(
        row_id,
        (form.form if form is not None else None) or row.form,
        thickness or row.thickness,
        form.packing if form is not None else None,
        decay,
        condition,
        "needed" if needed else row.history,
        read_as,
        grown=bool(forms) and row.woody and all(of_form.grown for of_form in forms),
    )


def _says(vocabulary: Language, entry: Entry) -> bool:
    """Whether a state is told: one that sets nothing but names a look of the wood is, a filler is
    not.
    """
    return entry.of != "nothing"
