"""Names, signs and origins that were once taken for something else, or refused without an answer.
What each should be read as was written down before it was run.
"""

from __future__ import annotations

import pytest

from builders import tables
from feedstock import Heap, Lot, UnknownName, Verdict, appraise, appraise_lot
from feedstock.errors import Problem
from feedstock.model.appraisal import LotAppraisal

pytestmark = pytest.mark.worked


def appraised(material: str, origin: str = "own garden", *signs: str) -> LotAppraisal:
    lot = Lot(material=material, origin=origin, signs=signs, mass="9 kg", moisture="15 % wet")
    return appraise(Heap(lots=[lot]), tables=tables()).lots[0]


def refused(**more: object) -> Problem:
    lot = {"material": "oak", "mass": "9 kg", **more}
    with pytest.raises(UnknownName) as why:
        appraise(Heap(lots=(Lot.model_validate(lot),)), tables=tables())
    return why.value.problems[0]


@pytest.mark.parametrize(
    ("name", "row", "verdict"),
    [
        # mould is asked about, the straw is straw
        ("mouldy straw", "straw", Verdict.CHECK_FIRST),
        # weeds and a shrub of the garden, no jetty and no brush with a handle
        ("docks", "garden-stalks", Verdict.READY),
        ("broom", "hardwood", Verdict.READY),
        ("broom prunings", "hardwood", Verdict.READY),
        ("brown cardboard boxes", "cardboard", Verdict.READY),
        # hay of any plant is hay, and asks what hay asks
        ("lucerne hay", "hay", Verdict.CHECK_FIRST),
        ("clover hay", "hay", Verdict.CHECK_FIRST),
        ("orchard wood", "fruit-prunings", Verdict.READY),
        ("windthrow", "hardwood", Verdict.READY),
        ("windthrow oak", "oak", Verdict.READY),
        # half woody herbs are thin stalks, no wood of six centimetres
        ("sage stalks", "garden-stalks", Verdict.READY),
        ("thyme stems", "garden-stalks", Verdict.READY),
        ("lavender prunings", "garden-stalks", Verdict.READY),
        ("lemon balm stalks", "garden-stalks", Verdict.READY),
        # haulm of beans and peas of any kind asks what bean haulm asks
        ("bean haulm", "bean-straw", Verdict.CHECK_FIRST),
        ("runner bean haulm", "bean-straw", Verdict.CHECK_FIRST),
        ("potato haulm", "garden-stalks", Verdict.READY),
        ("foin de luzerne", "hay", Verdict.CHECK_FIRST),
        ("Lavendelstängel", "garden-stalks", Verdict.READY),
        ("tallos de lavanda", "garden-stalks", Verdict.READY),
    ],
)
def test_a_garden_name_is_read_as_what_it_is(name: str, row: str, verdict: Verdict) -> None:
    found = appraised(name)
    assert (found.row, found.verdict) == (f"reference:{row}", verdict)


def test_a_broom_and_a_dock_that_were_made_are_heard() -> None:
    for name in ("old broom", "broom handles", "dock boards"):
        try:
            assert appraised(name).verdict > Verdict.DRY_FIRST
        except UnknownName:
            continue


@pytest.mark.parametrize("sign", ["no paint", "not painted", "never sprayed", "no chemicals"])
def test_what_is_denied_in_a_sign_clears_nothing(sign: str) -> None:
    """Hearsay: boards that ask for bare wood go on asking, and so does hay."""
    assert appraised("sawn offcuts", "workshop", sign).verdict is Verdict.CHECK_FIRST
    assert appraised("hay", "farm", sign).verdict is Verdict.CHECK_FIRST
    assert appraised("oak", "own trees", sign).verdict is Verdict.READY


def test_a_printed_thing_never_grew() -> None:
    assert appraised("oak", "own trees", "printed").verdict is Verdict.CHECK_FIRST
    assert appraised("leaves", "own garden", "printed").verdict is Verdict.CHECK_FIRST
    assert appraised("cardboard", "own garden").verdict is Verdict.READY


def test_a_missing_mark_is_told_to_say_nothing_of_what_bears_none() -> None:
    found = appraised("oak", "own trees", "no mark")
    assert found.verdict is Verdict.READY
    assert [f.code for f in found.findings] == ["unmarked-pallet"]
    assert appraised("pallet wood", "pallet", "no mark").verdict is Verdict.CHECK_FIRST


def test_leaves_are_no_wood_without_leaves() -> None:
    signs = ("toxic shrub", "dry wood without leaves")
    assert appraised("leaves", "own garden", *signs).verdict is Verdict.CHECK_FIRST
    assert appraised("oak", "own trees", *signs).verdict is Verdict.READY


def test_a_person_who_can_be_asked_is_no_garden_of_ones_own() -> None:
    for origin in ("my grandma", "a friend", "my boss"):
        assert appraised("hay", origin).verdict is Verdict.CHECK_FIRST
    for origin in ("my cousin's garden", "my landlord", "the vicar"):
        index = tables().index("origins")
        offered = {row for name in refused(origin=origin).nearest for row in index.find(name)}
        assert not offered & {"reference:own-garden", "reference:own-trees", "reference:farm"}


def test_a_misspelt_sign_is_answered_and_a_doubtful_one_not_with_a_soothing_name() -> None:
    assert refused(signs=["bare wod"]).nearest[:1] == ("bare wood",)
    for sign in ("dry crumbling fluff", "wet look", "solid feel"):
        assert not set(refused(signs=[sign]).nearest) & {"dry", "wet", "kiln dried", "solid wood"}


def test_several_signs_in_one_text_are_told_apart() -> None:
    said = refused(signs="bare wood, bark on")
    assert "`signs: [bare wood, bark on]`" in said.expected


@pytest.mark.parametrize(
    ("field", "value", "says"),
    [
        ("dismiss", [""], "the text is empty"),
        ("mass", "0.005 g", "look at its unit"),
        ("thickness", "3 m", "look at its unit"),
    ],
)
def test_what_cannot_be_meant_is_told_in_one_sentence(field: str, value: object, says: str) -> None:
    with pytest.raises(ValueError, match=says) as why:
        appraise_lot(Lot.model_validate({"material": "oak", "mass": "9 kg", field: value}))
    assert "should have at least" not in str(why.value)


@pytest.mark.parametrize(
    "said",
    [
        "color is pale",
        "measured with a digital meter",
        "strands of dry grass",
        "seed capsules among it",
        "on the route to the pit",
        "medium branches",
        "on occasion rained on",
    ],
)
def test_foreign_danger_words_that_are_english_words_are_not_heard_in_remarks(said: str) -> None:
    """`palé` is a pallet and `digital` a foxglove in Spanish; an English text means neither."""
    lot = Lot(material="oak", mass="9 kg", moisture="15 % wet", origin="own trees", remarks=said)
    assert appraise(Heap(lots=[lot]), tables=tables()).lots[0].verdict is Verdict.READY


@pytest.mark.parametrize(
    "said",
    [
        # German, French and Spanish for what the lists of what must not be burnt name
        "war ein alter Strommast",
        "lag in der Klärgrube",
        "nicht verbrennen steht drauf",
        "klebriges Zeug an einer Seite",
        "de la benne du chantier",
        "poteau téléphonique scié",
        "ne pas brûler, dit l'étiquette",
        "taché de cambouis",
        "madera tratada en autoclave",
        "restos de una casa quemada",
        "poste telefónico cortado",
        "manchado de grasa negra",
    ],
)
def test_dangers_are_heard_in_four_languages(said: str) -> None:
    lot = Lot(material="oak", mass="9 kg", moisture="15 % wet", origin="own trees", remarks=said)
    assert appraise(Heap(lots=[lot]), tables=tables()).lots[0].verdict >= Verdict.CHECK_FIRST


@pytest.mark.parametrize(
    ("sign", "row"),
    [
        ("mit Rinde", "bark-on"),
        ("avec écorce", "bark-on"),
        ("con corteza", "bark-on"),
        ("Massivholz", "solid-wood"),
        ("Stempel HT", "mark-ht"),
        ("marque HT", "mark-ht"),
        ("sello HT", "mark-ht"),
        # hearsay in every language is the word and not the mark
        ("wärmebehandelt", "told-heat-treated"),
        ("traité thermiquement", "told-heat-treated"),
        ("tratado térmicamente", "told-heat-treated"),
        ("Bleifarbe", "flaking-paint"),
        ("peinture au plomb", "flaking-paint"),
        ("creosota", "tar-smell"),
        ("Fichte", None),
    ],
)
def test_signs_go_by_their_names_in_four_languages(sign: str, row: str | None) -> None:
    found = tables().index("signs").find(sign)
    assert found == ([] if row is None else [f"reference:{row}"])


@pytest.mark.parametrize(
    ("name", "row"),
    [
        ("yew logs", "yew"),
        ("yew hedge clippings", "yew"),
        ("laburnum branches", "laburnum"),
        ("rhododendron prunings", "rhododendron"),
        ("cherry laurel prunings", "cherry-laurel"),
        ("Eibenzweige", "yew"),
        ("ramas de tejo", "yew"),
    ],
)
def test_a_poisonous_plant_is_read_in_every_form_and_asked_once(name: str, row: str) -> None:
    """It is neither refused nor taken for another plant, and the answer for it clears it."""
    found = appraised(name)
    assert (found.row, found.verdict) == (f"reference:{row}", Verdict.CHECK_FIRST)
    assert [f.code for f in found.findings if f.permits > Verdict.READY] == ["toxic-shrub"]
    assert appraised(name, "own garden", "dry wood without leaves").verdict is Verdict.READY


def test_a_plant_that_another_field_knows_is_answered_with_it() -> None:
    assert "`signs: [oleander]`" in refused(material="oleander branches").expected


def test_an_elided_article_stands_apart() -> None:
    assert appraised("branches d'olivier").row == "reference:olive"
    assert appraised("bûches d\u2019orme").row == "reference:elm"


@pytest.mark.parametrize(
    "said",
    [
        "stored dry in the woodshed since spring",
        "came down on the neighbour's fence in the storm",
        "the bark has silver lichen on it",
        "stacked on two old pallets to keep it off the ground",
        "raked from under the swing",
        "the old tin bath is full of it",
        "the tail end of a branch",
        "heather from the moor",
        "tied with hemp string",
    ],
)
def test_common_words_are_no_things(said: str) -> None:
    lot = Lot(material="twigs", mass="9 kg", moisture="15 % wet", origin="own garden", remarks=said)
    assert appraise(Heap(lots=[lot]), tables=tables()).lots[0].verdict is Verdict.READY


@pytest.mark.parametrize(
    "said",
    [
        "mattress springs in it",
        "tailings heap behind it",
        "old swing",
        "dried drinks cans in it",
        "skirtings from the hall",
        "hoardings from the site",
    ],
)
def test_the_things_themselves_are_heard(said: str) -> None:
    lot = Lot(material="twigs", mass="9 kg", moisture="15 % wet", origin="own garden", remarks=said)
    assert appraise(Heap(lots=[lot]), tables=tables()).lots[0].verdict >= Verdict.CHECK_FIRST
