"""What was assumed of a heap and of its lots, and how a doubtful word was read."""

from __future__ import annotations

from ..say import FormattedValues, Sentence


def _read_as(values: FormattedValues) -> str:
    about = f", about {values('about', '.0f')}" if values["about"] is not None else ""
    parts = [values("material"), *values.each("forms")]
    return f"read as: {'; '.join([', '.join(parts) + about, *values.each('states')])}"


def _usual_size(values: FormattedValues) -> str:
    measures = [
        f"{values(name, '.2g')} {how}"
        for name, how in (
            ("diameter", "across"),
            ("width", "wide"),
            ("length", "long"),
            ("depth", "deep"),
        )
        if values[name] is not None
    ]
    return f"No measures were given: planned for a usual {values('burner')}, {', '.join(measures)}."


SENTENCES: dict[str, Sentence] = {
    "heap.no-burn": "no burn was named: a generic open flame-fed pit was assumed ({burner})",
    "heap.usual-size": _usual_size,
    "heap.of-lot": "{lot}: {note}",
    "heap.read-as": "{note}",
    "lot.read-as": _read_as,
    "lot.sawn-by-measures": "a width and a thickness were given: it counts as sawn wood",
    "lot.container": "a {container} was taken to hold {volume}; give `volume` for yours",
    "lot.packing": "packing was not given; {packing} was assumed",
    "lot.decay": "rotted wood without its decay class (1 sound to 5 powder): the whole range from "
    "2 to 5 was taken; give decay",
    "lot.other-basis": "a {tool} shows {shows} basis; '{written}' was taken as {basis} basis, as "
    "written",
}
