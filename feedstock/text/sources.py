"""Sources, numbered as they are cited."""

from __future__ import annotations

from collections.abc import Iterator

from ..tables.citations import Citation
from ..words.layout import wrapped

KNOWN = {
    "memory": "from memory",
    "practice": "common practice",
    "judgement": "judgement",
    "derived": "derived",
    "read": "",
}


class Sources:
    """Numbers for the sources that were cited, in the order in which they first occur."""

    def __init__(self) -> None:
        self.numbers: dict[str, int] = {}
        self.places: dict[str, list[str]] = {}

    def cite(self, citations: tuple[Citation, ...]) -> str:
        marks = []
        for citation in citations:
            marks.append(self.numbers.setdefault(citation.text, len(self.numbers) + 1))
            known = KNOWN.get(citation.known, "")
            place = citation.at + (f" ({known})" if known and known not in str(citation) else "")
            places = self.places.setdefault(citation.text, [])
            if place and place not in places:
                places.append(place)
        return f"[{', '.join(str(m) for m in sorted(set(marks)))}]"

    def lines(self) -> Iterator[str]:
        for text, number in self.numbers.items():
            places = "; ".join(self.places[text])
            yield wrapped(f"{text}: {places}" if places else text, f"  [{number}] ")
