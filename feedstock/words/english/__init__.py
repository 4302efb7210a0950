"""What the library says in English, by code; a module for each room of it.

A sentence is a template of named values, or a function where grammar needs one. An amount with an
interval is said whole (`{mass}`), by its middle (`{mass:likely}`), or as a range with a format
(`{mass:.0f}`); a quantity takes a format of its number (`{length:.2g}`). All of them come out in
the units of the reader.
"""

from __future__ import annotations

from ..say import Sentence, text_sentence
from . import (
    after,
    assessment,
    burn,
    char,
    compost,
    cues,
    drying,
    experience,
    lot,
    one_page,
    page,
)

SENTENCES: dict[str, Sentence] = {
    "text": text_sentence,
    **assessment.SENTENCES,
    **burn.SENTENCES,
    **char.SENTENCES,
    **compost.SENTENCES,
    **cues.SENTENCES,
    **drying.SENTENCES,
    **experience.SENTENCES,
    **lot.SENTENCES,
    **page.SENTENCES,
    **one_page.SENTENCES,
    **after.SENTENCES,
}
