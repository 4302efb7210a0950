"""Says a message in the units and the language of the reader."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from string import Formatter
from typing import Any

from ..quantities import format as numbers
from ..quantities.estimate import Estimate
from ..quantities.format import ENGLISH as ENGLISH_WORDING
from ..quantities.format import Units, Wording
from ..quantities.frozen import frozen
from .message import Message, Quantity, Texts, speak_with


class FormattedValues:
    """The values of one message as its sentence uses them: `values("mass")` is the word for a
    value, `values["mass"]` the value itself.
    """

    __slots__ = ("reader", "values")

    def __init__(self, values: Mapping[str, Any], reader: Reader) -> None:
        self.values, self.reader = values, reader

    def __getitem__(self, name: str) -> Any:
        return self.values.get(name)

    def __call__(self, name: str, spec: str = "") -> str:
        return self.reader.word(self.values.get(name), spec)

    def each(self, name: str) -> list[str]:
        """The parts of a value, each as a word."""
        return [self.reader.word(part) for part in self.values.get(name) or ()]

    def fill(self, template: str, **more: Any) -> str:
        """A template with these values and some more."""
        return self.reader.filled(template, {**self.values, **more})

    @property
    def units(self) -> Units:
        return self.reader.units


Sentence = str | Callable[[FormattedValues], str]
"""A template of named values, each with a format at will, or a function where grammar needs one."""


@frozen
class _Language:
    sentences: Mapping[str, Sentence]
    wording: Wording


ENGLISH = "en"

_LANGUAGES: dict[str, _Language] = {}


def register_language(
    code: str, sentences: Mapping[str, Sentence], wording: Wording = ENGLISH_WORDING
) -> None:
    """Sentences by code in another language; what it does not have is said in English.

    Raises ValueError for English, which is always there.
    """
    if code in _LANGUAGES and code == ENGLISH:
        raise ValueError("English is the language that all others fall back to")
    _LANGUAGES[code] = _Language(dict(sentences), wording)


def languages() -> tuple[str, ...]:
    """The languages that can be asked for."""
    return tuple(_LANGUAGES)


def known(code: str) -> bool:
    """Whether there is a sentence for a code."""
    return code in _LANGUAGES[ENGLISH].sentences


def say(message: Message | Texts, units: Units = "metric", language: str = "en") -> str:
    """The sentence of a message, or the text of a row, for a reader."""
    return Reader(units, language).word(message)


@frozen
class Reader:
    """Who reads: the units and the language, and what their own bucket and barrow hold, L, where
    they want to have amounts in those too.
    """

    units: Units = "metric"
    language: str = "en"
    bucket: float = 0.0
    barrow: float = 0.0

    @property
    def wording(self) -> Wording:
        """How the language says an amount."""
        return _LANGUAGES.get(self.language, _LANGUAGES[ENGLISH]).wording

    def say(self, code: str, /, **values: Any) -> str:
        """The sentence of a code with these values."""
        return self.sentence(code, values)

    def sentence(self, code: str, values: Mapping[str, Any]) -> str:
        """As `say`, with the values as a mapping; a code that nobody knows is told as it is, with
        its values.
        """
        own = _LANGUAGES.get(self.language)
        sentence = own.sentences.get(code) if own is not None else None
        if sentence is None:
            sentence = _LANGUAGES[ENGLISH].sentences.get(code)
        if sentence is None:
            content = "; ".join(f"{name} {self.word(value)}" for name, value in values.items())
            return f"{code.replace('-', ' ')}{f': {content}' if content else ''}"
        if callable(sentence):
            return sentence(FormattedValues(values, self))
        return self.filled(sentence, values)

    def filled(self, template: str, values: Mapping[str, Any]) -> str:
        """A template with its values said."""
        return _Filler(self).vformat(template, (), values)

    def word(self, value: Any, spec: str = "") -> str:
        """A value as a word.

        An estimate is said whole (its interval and its middle), `likely` (the middle alone,
        `poured` of water), `short` (of weeks, in days
        where they are few), `hand` (the middle as one weighs it, `bare-hand` without its about),
        `at-least` (the high end, rounded up), or as `range`, `low`, `mid` or `high` with a format
        for its number, without the unit after `bare`. Of a number or a quantity the format is one
        of Python's, or `plain`; of a text `lower` or `upper` for its first letter.
        """
        if isinstance(value, Message):
            return _as(spec, self.sentence(value.code, value.values))
        if isinstance(value, Texts):
            return _as(spec, numbers.written(value.given_in(self.language), self.units))
        if isinstance(value, Estimate):
            return self._estimate(value, spec)
        if isinstance(value, Quantity):
            form = spec.removeprefix("bare ") or ".3g"
            text = numbers.quantity(value.value, value.unit, self.units, form, self.wording)
            return text.partition(" ")[0] if spec.startswith("bare ") else text
        if isinstance(value, tuple):
            return self.listed(self.word(item) for item in value)
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return numbers.number(value, spec or "g")
        return _as(spec, "" if value is None else str(value))

    def _estimate(self, value: Estimate, spec: str) -> str:
        if spec in _WHOLE:
            return _WHOLE[spec](value, self.units, self.wording) + self._in_vessels(value, spec)
        bare, end = spec.startswith("bare "), spec.removeprefix("bare ")
        end, _, form = end.partition(" ")
        ends = ("low", "high") if end == "range" else (end,)
        values = tuple(float(getattr(value, f"{item}_value")) for item in ends)
        texts, unit = numbers.quantities(
            values, value.unit, self.units, form or ".3g", self.wording
        )
        low, high = texts[0], texts[-1]
        text = low if low == high else self.wording.range.format(low=low, high=high)
        return text if bare or unit == "1" else f"{text} {unit}"

    def _in_vessels(self, value: Estimate, spec: str) -> str:
        """Litres in the reader's buckets, and from a barrow on in barrows; water is carried, so
        that it comes in buckets, and no bucket too few.
        """
        if value.unit != "L" or not (self.bucket or self.barrow):
            return ""
        ready, poured = spec == "at-least", spec in ("at-least", "poured")
        litres = value.high_value if ready else value.mid_value
        barrow = self.barrow and not (poured and self.bucket) and litres >= self.barrow
        one = self.barrow if barrow or not self.bucket else self.bucket
        count = numbers.filled(litres, one, up=ready)
        return self.say(f"in.{'barrows' if one == self.barrow else 'buckets'}", count=count)

    def listed(self, words: Iterable[str]) -> str:
        """`a, b and c`."""
        *head, last = list(words) or [""]
        return self.wording.both.format(first=", ".join(head), last=last) if head else last


_WHOLE: dict[str, Callable[[Estimate, Units, Wording], str]] = {
    "": numbers.amount,
    "likely": numbers.likely,
    "poured": numbers.likely,
    "short": numbers.short_time,
    "hand": numbers.in_hand,
    "bare-hand": numbers.bare_in_hand,
    "at-least": numbers.at_least,
}


class _Filler(Formatter):
    """Fills templates with words."""

    def __init__(self, reader: Reader) -> None:
        self.reader = reader

    def get_field(self, field_name: str, args: Any, kwargs: Any) -> tuple[Any, str]:
        # names only: no attribute and no item of a value can be asked for by a text
        if field_name[:1].isdigit():
            return Texts(f"{{{field_name}}}"), field_name
        return kwargs.get(field_name), field_name

    def format_field(self, value: Any, format_spec: str) -> str:
        return self.reader.word(value, format_spec)


def _as(spec: str, text: str) -> str:
    """A text within another: `lower` and `upper` change its first letter."""
    if spec == "lower":
        return text[:1].lower() + text[1:]
    if spec == "upper":
        return text[:1].upper() + text[1:]
    return text


NAMED = re.compile(r"\{([a-z_]+)\}")
"""A named value in the text of a row."""


def text_sentence(values: FormattedValues) -> str:
    """The text of a row with the values that are named in it."""
    text = values("text")
    return NAMED.sub(
        lambda found: values(found[1]) if found[1] in values.values else found[0], text
    )


speak_with(Reader().word)
