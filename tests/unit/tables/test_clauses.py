"""What the clause around a danger word says of it: each rule with a text that it passes and one,
nearly alike, that it must not. Both were judged by their plain meaning before they were read.
"""

from __future__ import annotations

import pytest

from feedstock import load_tables
from feedstock.tables.names.danger import scan

pytestmark = pytest.mark.worked

TWINS = [
    ("by the fence, all dry and clean", "by the fence, some of it in with them"),
    ("he was here doing the fence, dropped the limbs for us", "took up the fence and this is it"),
    ("lopped before they tiled the porch", "lopped, includes the porch"),
    ("felled to get at the conservatory", "nailed to the conservatory"),
    ("stacked by tool shed", "stacked with shed bits"),
    ("just missed the propane tank", "propane leaked on the limbs"),
    ("have to paint the garage first", "have to get the paint off first"),
    ("creosote in the chimney so no more pine indoors", "creosote in the grain"),
    ("hauled in my diesel buggy", "hauled out of a diesel puddle"),
    ("went to town for glue, limbs by Friday", "limbs with glue and paint"),
    ("cut at Oil Springs farm", "cut with oil springing out"),
    ("the bark looks painted", "the ends look painted"),
    ("you'd think someone had painted the bark", "I think someone had painted the bark"),
    ("cut last year. No paint on it", "no paint on it. I think"),
    ("no nails but the limbs got wet", "no nails but some got in"),
    ("the owner says it isn't sprayed", "it isn't sprayed, the owner says"),
    ("no plastic this year", "no paint this year"),
    ("blew down in a derecho last week", "all of it desechos last week"),
    ("smells of turps but that's just the pitch", "smells of turps, it was pitch on it"),
    # beside it, by another name
    ("leaning on the wall of the barn", "planks of the barn wall"),
    ("beside the path to the house", "boards from beside the house, its cladding"),
    ("between the shed and the fence", "bits of the shed and the fence"),
    ("raked from under the bench", "pulled up from under the bench, its floor boards"),
    ("left of the pergola", "what is left of the pergola"),
    # what the tree did to it
    ("shading the conservatory", "came with the conservatory"),
    ("cut back from the gate", "cut from the gate"),
    ("felled to save the wall of the barn", "saved from the barn"),
    ("fell just short of the porch", "fell off the porch roof"),
    # before it was there
    ("cut before the fence was put up", "was the fence before"),
    # far from it
    ("too far from the road to carry", "not far from the road"),
    ("miles from any motorway", "a few metres from the motorway"),
    # likened to it
    ("straight as a pole", "used as a pole"),
    ("hard like iron", "smells like diesel"),
    ("resin like glue on the bark", "looks like paint"),
    ("thinner than a pencil", "a box of pencils"),
    # what it is for
    ("sold for furniture", "was used for furniture"),
    ("would make a fine bench", "was made from a bench"),
    ("too thin for fence posts", "from old fence posts"),
    # done in it, on it or at it
    ("sawn on the bench", "sawn from the bench"),
    ("carried to the shed", "belonged to the shed"),
    ("hung in the loft to dry", "was in the loft for years as a beam"),
    ("dried in the barn", "found in the skip"),
    # under a cover
    ("under a sheet of corrugated iron", "a sheet of corrugated iron in it"),
    # what held it
    ("the pallet it stood on", "the pallet it was broken from"),
    ("the crate they came in was kept", "the crate they were made from"),
    # by nature
    ("demolished by the storm", "demolished by the builders"),
    ("stained by rain", "stained by hand"),
    # people
    ("borrowed the saw from a carpenter", "offcuts from a carpenter, painted"),
    ("the fire brigade has been told", "what the builders left"),
    # named after it
    ("a stag beetle and a barn owl in it", "a barn door in it"),
    ("our garden in Mill Road", "swept up in Mill Road"),
    # so much of it
    ("four bin bags full", "bin bags all through it"),
    ("collected in bin bags", "mixed with bin bags"),
    # asked for
    ("bring the metal bucket", "a metal bucket in the middle"),
    # elsewhere
    ("the old fence went to the tip", "the old fence went on too"),
    ("shed roof timbers are not included", "shed roof timbers are included"),
    ("poison ivy was left standing", "poison ivy was left standing till we cut it"),
    ("left the painted pieces out", "left the paint on"),
    ("anything painted has been sorted out", "the paint has been sorted out, mostly"),
    # denied
    ("free from plastic and string", "no nails and painted"),
    ("never painted, varnished or oiled", "never painted, varnished once"),
    ("no lichen, not paint either", "not painted above, the foot was"),
    ("not treated with anything", "not treated on one side"),
    ("garden waste only, no rubbish", "no rubbish, one bag only"),
    ("we don't spray", "we don't spray often"),
    ("didn't find any nails", "didn't get the nails out"),
    # taken off
    ("bird feeder taken down first", "fence taken down last"),
    ("wire and label removed", "paint and varnish removed"),
    ("a crisp packet, picked out", "plastic, cut off the fence"),
    # what the char will be for, and where what is left will go
    ("the char is for the bed by the fence", "char from the fence"),
    ("a new box is waiting for the char", "old pallets for the char"),
    ("it goes to the dump on Friday", "it came to the dump on Friday"),
    # it was not there yet, or gone by then
    ("felled before the shed was painted", "felled before it was painted"),
    ("stacked before we creosoted the gates", "stacked before we creosoted it"),
    (
        "limbs down by Easter, decking wasn't laid till August",
        "decking wasn't taken up till August",
    ),
    ("the old coop went to the tip before the tree came down", "the old coop went on the heap"),
    ("planted after the barn was pulled down", "boards left after the barn was pulled down"),
    ("planted where the swing set had been", "boards from where the swing set had been"),
    ("the bin held fence boards, it was swept before this went in", "the bin held fence boards"),
    ("tree was older than the fence", "older bits of the fence"),
    # what a thing is kept for, or was to become
    ("saving the fence boards for my brother", "saving the fence boards for the fire"),
    ("the can of stain is for the picnic table", "the stain is for protection"),
    ("held back for fence stakes", "held back the fence stakes"),
    ("good bits were going to be fence posts", "good bits might be off the fence"),
    ("pallets go back to the yard", "pallets go in last"),
    ("anything with paint goes to the yard", "anything with paint went in too"),
    # whose it is
    ("my neighbour burns pallets. I don't", "my neighbour burns pallets and so do we"),
    (
        "my sister sprays her roses but I've never sprayed",
        "she sprays hers but I only do it in June",
    ),
    ("the heap with the doors is my brother's", "the heap with the doors is the same oak"),
    ("he had decking too, I didn't take any", "he had decking too, I took a few"),
    ("Dad's boat was in the way", "Dad's boat"),
    ("they painted their fence in May", "they painted the logs in May"),
    # what became of a thing, and what the lot is
    ("we tore down the deck in 2015; these are limbs", "we tore down the deck, these are good"),
    ("last year's batch was pallets. This one is all limbs", "last year's batch was pallets too"),
    ("smells like turpentine, but that is only the sap", "smells like turpentine"),
    # who did it, with what, in what
    ("the furniture maker felled it", "the furniture maker gave me his offcuts"),
    ("cut by the lads from the furniture workshop", "offcuts from the furniture workshop"),
    ("limbs the fence guys left us", "what the fence guys left us"),
    ("hauled home in my diesel pickup", "the pickup dripped diesel on it"),
    ("carried over in clean plastic buckets", "mixed with plastic buckets"),
    ("lopped from a borrowed aluminium ladder", "rungs of an aluminium ladder"),
    ("pulled over with a nylon rope", "a nylon rope grown into it"),
    ("a saw whose handle I painted", "logs whose ends I painted"),
    # how big, how bright
    ("the lichen looks like paint", "lichen on it, looks like paint"),
    (
        "the bay was full of pallets, hosed out before these twigs came",
        "the bay is full of pallets",
    ),
    ("as bright as fresh paint", "as well as fresh paint"),
    ("the colour of a varnished fiddle", "the colour of old paint on the ends"),
    ("bark curls up like strips of plastic", "strips of plastic in the bark"),
    # where it lies
    ("logs up in the barn", "beams up in the barn"),
    ("Barn Close, second cut", "barn closed, its boards"),
    ("stacked apart from the painted stuff", "stacked with the painted stuff"),
    # denied, though something else is left open
    ("cut last year, never sprayed", "never sprayed since last year"),
    ("ends from my own little sawmill: not painted", "a little painted, not treated"),
    ("ash logs only. No furniture", "no furniture, only on the ends"),
    ("Ply? MDF? None of that", "Ply? MDF? Some of that"),
    ("they spray, we spray nothing", "they spray nothing but roundup"),
    ("cut in May, not painted", "it may be painted"),
    ("unpainted and dry", "neither dry nor unpainted"),
    ("nothing on it", "nothing on it that I know of"),
    # only a bearing, a use or a quality
    ("prunings, fence side of orchard", "prunings, fence sides off the orchard"),
    ("self sown where the settlers had a fence", "posts from where the settlers had a fence"),
    ("there was a playhouse under this tree", "there was a playhouse under this tree, it is in"),
    ("bales stood on pallets", "bales of broken pallets"),
    ("sitting in a dry corner of the barn", "used in a dry corner of the barn"),
    ("pallets stay in bay 7", "pallets stay in the heap"),
    ("a steel drum to make it in", "a steel drum to burn with it"),
    ("the drum itself doesn't touch the stack", "the drum is in the stack"),
    ("peels off like old varnish", "old varnish peels off"),
    ("furniture grade, sad it was rotten", "furniture grade boards"),
    ("the stud up the valley", "a stud of the wall"),
    ("the ash can go round the roses", "the ash can go in the pit"),
    # far, lent, driven off, spoken of
    ("rounds by the blue door", "rounds of the blue door"),
    ("at the fence end of the garden", "from the fence ends"),
    ("a limb from Yew Tree Cottage", "a beam off the cottage, Yew Tree Bits"),
    ("the fence went and left on a lorry", "the fence, some left on a lorry"),
    ("the bench that stood on this spot went to my sister; these are limbs", "the bench is these"),
    ("ten paces from our painted summerhouse", "ten pieces from our painted summerhouse"),
    ("rubbing on the telephone wire", "wire rubbing in the bark"),
    ("you will ask about plastic: no plastic", "you will ask about plastic: some plastic"),
    ("split with wedges and a sledgehammer", "with wedges and a mallet in it"),
    ("the pallet is only there to keep it off the grass", "the pallet is there too"),
    ("the pallet under it and I want it back", "the pallet under it, cut up"),
    ("don't mix it up with the pallets", "I did mix it up with the pallets"),
    ("pallets in the next bay, those belong to the scouts", "pallets, those belong in here"),
    ("sleepers you can see are not part of this load", "sleepers you can see in this load"),
    ("I had meant to weave a fence", "I had meant to burn a fence"),
    ("stood on pallets", "stood on pallets that I sawed up as well"),
    ("straight as scaffold poles", "straight as scaffold poles, that is what they were"),
    ("it is old, no tannalised stuff, I know the difference", "no tannalised stuff that I know"),
    ("the paint on my sleeve", "the paint on my logs"),
    ("it will go into the beds by the sleepers", "it will go in with the sleepers"),
    (
        "the old shed stood where the birches are, it came down in 1960",
        "the old shed stood where the birches are, it came in too",
    ),
    ("carried home on a plastic sheet", "came wrapped with a plastic sheet"),
    ("none of it has been anywhere near paint", "some of it has been near paint"),
    ("never had so much as a drop of oil", "never had so much oil"),
    ("picked out two bits of string and a nail", "two bits of string and a nail"),
    ("planted the year they pulled the garages down", "bits of the garages they pulled down"),
    ("for the pots on the patio once it is char", "from the patio, once it is char"),
    ("we don't hold with sprays and never have", "we hold with sprays and always have"),
    ("weedkiller has never been used on it", "weedkiller was never used before last spring"),
    ("paint? Not on these", "paint? Not on these, on the others yes"),
    ("these are not pallets, whatever my wife says", "these are not pallets, my wife says"),
    ("we keep coal ash well away from this heap", "we tip coal ash away on this heap"),
    ("it had no contact with paint", "it had contact with paint"),
    ("no yew in here, I know all three", "no yew in here as far as I know"),
    ("no treated wood, I would not burn that", "no treated wood, I would say"),
    ("for certain never creosoted", "not certain, but never creosoted"),
    ("we thought about fence posts, then split it", "we thought these fence posts would do"),
    ("dad creosotes all he has, but he lives in Wales", "dad creosotes all he has, and these"),
    ("a pile of pallets, please ignore it", "a pile of pallets, please burn it"),
    ("moved on a trolley with rubber tyres", "moved with rubber tyres in it"),
    ("cut with a saw borrowed from the boatyard", "boards borrowed from the boatyard"),
    (
        "before we had the greenhouse the vine grew here",
        "the greenhouse frames from before the vine grew",
    ),
    # what governs a name, whatever it is called
    ("hedge by the side of the garages", "boards by the side of the garages, its cladding"),
    ("been in a cabin for two years", "been in a cabin for years as a beam"),
    ("limbs off the fence line", "rails off the fence line"),
    ("trimmed off the roof", "taken off the roof"),
    ("squashed the greenhouse", "dismantled the greenhouse"),
    ("felled for the extension", "used for the extension"),
    ("cut back so the painters can get at the house", "cut so we can paint them"),
    ("came down across the road", "stood close to the road"),
    ("Scots pine from the mill down the road", "swept up down the road"),
    ("a tarp over it", "paint over it"),
    ("fence wire never touched it", "fence wire is in it"),
    # what is told instead of what the lot is
    ("Dave the painter brought it", "Dave the painter left it"),
    ("from a mate who fits kitchens", "from a mate who fits kitchens, his offcuts"),
    ("he also does fence and decks", "he also does fence posts, these are some of them"),
    ("while they were doing the tarmac next door", "while they were creosoting it"),
    ("old fence panels have gone in the skip", "old fence panels have gone in the pit"),
    ("checked it for plastic and there isn't any", "checked it for plastic, think there isn't any"),
    ("the dark stain is just tannin", "the dark stain is just oil"),
    ("looks like driftwood but it's oak", "looks like driftwood, washed up last week"),
    ("white as if somebody had painted it", "looks as if somebody had painted it"),
    ("split with a splitter that runs on diesel", "the splitter leaked diesel"),
    ("peeled with the old paint scraper", "old paint, scraped"),
    ("park by the garages", "parked the old doors on it"),
    ("there was a shed there once but that went years ago", "there was a shed door in it once"),
    ("the new oil tank's going here", "the old oil tank leaked here"),
    ("oak from Railway Cottages", "oak from the railway"),
    # denied by nobody and nothing
    ("nobody has ever painted it", "nobody knows whether it was painted"),
    ("we don't believe in sprays", "we believe in sprays"),
    ("not from the farm that sprays", "from the farm that sprays"),
    ("nae paint on it", "paint on it"),
    # and what must be asked about all the same
    ("the wire has been taken out", "please take the wire out"),
    ("key is under the paint tin", "mind the nails"),
    ("down the side of the garage", "off the back of the shed, the boards"),
    ("lay in the shed", "in the shed wall till last year"),
    ("squashed the chair", "I chucked the broken chair on top"),
    ("trimmed off the wires", "wires, trimmed off"),
    ("under the oil tank", "under the leaking oil tank"),
    ("sat on bricks to keep it dry", "bricks in it"),
    ("like old sleepers in size", "like old sleepers, that sort of smell"),
    # whose, where and when, by the small words around it
    ("from beside the old deck", "sawn up the old deck"),
    (
        "it grew where the wood was, before the road was built",
        "it grew on the place where was before the gas works",
    ),
    ("stacked by the creosoted fence", "sawn from the creosoted fence"),
    (
        "stacked by the creosoted fence",
        "stacked by the creosoted fence, some of it in with them",
    ),
    ("it looks painted but this is the bark", "it looks painted but this is the primer"),
    ("ash the tree, now. no coal ash in it", "no coal ash in it, now"),
    ("they thought it was yew but it's cherry", "they thought it was cherry but it's yew"),
    (
        "they thought it was yew but it's cherry",
        "they thought it was yew but it's cherry and the rest is yew",
    ),
    ("they thought it was yew but it's cherry", "we thought it was yew and it is"),
    (
        "felled by the chap who does our fencing, straight from the wood",
        "from the chap who does our fencing, the wood",
    ),
    (
        "dad did the fence with creosote but these are from the other garden",
        "dad did the fence with creosote but these are from the other side",
    ),
    (
        "dad did the fence with creosote but these are from the other garden",
        "dad did the fence with creosote but these are from it",
    ),
    ("watch the petrol can in the shed doorway", "watch the petrol on the ends"),
    ("missed the asbestos garage", "hit the asbestos garage"),
    ("left by Mr Painter from plot 9", "left by the painter, painted"),
    ("left by Mr Painter", "left by Mr Smith, Painted"),
    ("ash from the hurley maker", "ash from the maker's stove"),
    ("oak to cut up when I get petrol", "oak to burn when I get the paint off it"),
    ("a pole of my own hazel", "an ESB pole"),
    ("left over from the harvest festival", "left over from the festival"),
    ("felled because of the conservatory", "unsold because of the weedkiller"),
    ("they said it was yew but it's a cherry", "they said it was yew and it's a big tree"),
    ("it smells of turps because it's pine", "it smells of creosote but this is oak"),
    ("it looks painted but it's only lichen", "it looks painted, these are pine"),
    # other languages
    ("lag hinter dem Schuppen", "stammt vom Schuppen"),
    ("im Schuppen getrocknet", "aus dem Schuppen gebaut"),
    ("au pied du mur de la grange", "planches du mur de la grange"),
    ("no se ha pintado nunca", "se ha pintado una vez"),
    ("junto a la valla", "trozos de la valla"),
]


TWINS_OF_NO_WOOD = [
    ("straw from the tin shed", "straw from the kennels"),
    ("straw out of the old stable loft", "thatch off the old stable roof"),
    ("dahlias, stakes pulled out", "dahlias with their stakes"),
    ("grown in old paint tins", "mixed with old paint tins"),
    ("swept off the patio", "swept off the street"),
    ("leaves, tip out of the plastic bags", "leaves with plastic bags in"),
    ("covered with a bit of old tarpaulin", "bits of old tarpaulin in it"),
    ("she never sprays the paddock", "she sprays the paddock"),
    ("lawn leaves, heap by the car park", "leaves, heap swept up from the car park"),
    ("leaves, no plastic inside", "logs, no paint inside"),
    ("hay, no wire inside", "hay, no wire inside, lots outside"),
    ("the tarp blew off in May", "the tarp blew to bits in May"),
    ("the tarp blew off it", "bits of the tarp blew off into it"),
    ("next to the diesel bowser", "the diesel bowser leaked on it"),
    (
        "the ponies only get her own hay and she doesn't use weedkiller",
        "she only did one side and doesn't use weedkiller",
    ),
    ("tipped out of plastic sacks", "tipped out with plastic sacks"),
    (
        "tipped out of the sacks, I took the sacks back",
        "tipped out of the crates, I took the crates apart",
    ),
    ("rained on before we could bale it, no sprays", "no sprays as far as we could see"),
]


TWINS_OF_SAWN_WOOD = [
    (
        "the spoons get oiled later, these never did",
        "the spoons get oiled later, these never did dry",
    ),
    ("the hives got painted, these didn't", "the hives got painted, these did"),
]


@pytest.mark.parametrize(("passes", "warns"), TWINS_OF_SAWN_WOOD)
def test_of_wood_that_may_be_sawn_one_passes(passes: str, warns: str) -> None:
    tables = load_tables(plugins=False)
    assert not scan(tables, passes), passes
    assert scan(tables, warns), warns


@pytest.mark.parametrize(("passes", "warns"), TWINS_OF_NO_WOOD)
def test_of_no_wood_a_thing_is_where_it_lay(passes: str, warns: str) -> None:
    tables = load_tables(plugins=False)
    assert not scan(tables, passes, nature="soft"), passes
    assert scan(tables, warns, nature="soft"), warns


@pytest.mark.parametrize(("passes", "warns"), TWINS)
def test_a_rule_passes_one_and_not_its_twin(passes: str, warns: str) -> None:
    tables = load_tables(plugins=False)
    assert not scan(tables, passes, nature="in bark"), passes
    assert scan(tables, warns, nature="in bark"), warns


def test_every_end_of_a_text_is_read() -> None:
    """A text may begin with any word of another."""
    tables = load_tables(plugins=False)
    for text in (text for pair in TWINS for text in pair):
        words = text.split()
        for first in range(len(words)):
            for said in (" ".join(words[first:]), " ".join(words[: first + 1])):
                assert all(said[h.start : h.end] == h.phrase for h in scan(tables, said)), said


def test_where_leaves_were_gathered_is_no_thing_but_where_wood_came_from_is() -> None:
    tables = load_tables(plugins=False)
    for said in ("raked off the patio", "from the raised beds", "from the greenhouse"):
        assert not scan(tables, said, nature="soft"), said
        assert scan(tables, said), said
    assert scan(tables, "from the rabbit hutch", nature="soft")


def test_a_text_in_another_language_is_heard_in_it() -> None:
    """Short foreign words count where the words around them are of that language."""
    tables = load_tables(plugins=False)
    assert scan(tables, "Eibe ist auch dabei")
    assert scan(tables, "un peu d'if dans le tas")
    assert not scan(tables, "dry it if wet")
