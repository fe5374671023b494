"""What was done or seen, in the growers' words; and what a line must not be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias, get_args

from evenpick.garden.diary import Cause, Tending
from evenpick.garden.diary_scan import UNNUMBERED, Scan

Act: TypeAlias = Literal[
    "sowed",
    "started",
    "planted",
    "planted out",
    "picked",
    "lost",
    "came up",
    "tended",
    "watered",
    "cleared",
    "seed got",
    "seed saved",
    "seed tested",
    "seed left",
    "weather",
    "words",
    "unclear",
]


@dataclass(frozen=True, slots=True)
class Verb:
    act: Act
    what: str = ""
    """which tending; the cause that the verb tells"""
    words: str = ""


_TENDED: dict[Tending, str] = {
    "thinned": r"thinn?ed(?: out)?|thinning(?: out)?|singled",
    "pricked out": r"prick(?:ed|ing) out",
    "potted on": r"pott(?:ed|ing) (?:on|up)",
    "hardened off": r"harden(?:ed|ing) off|started hardening",
    "earthed up": r"earth(?:ed|ing) up|hilled(?: up)?|hilling(?: up)?|ridged(?: up)?",
    "uncovered": r"uncovered|unfleeced|took (?:the )?(?:fleece|net|netting|cloches|covers?) off|"
    r"removed (?:the )?(?:fleece|net|netting|cloches|covers?)(?: from)?",
    "covered": r"covered|fleeced|netted|put (?:the )?(?:fleece|net|netting|cloches) (?:over|on)",
    "weeded": r"weeded|weeding|hoed|hoeing|hand weeded",
    "fed": r"fed|feeding|fertili[sz]ed|top[ -]?dressed|side[ -]?dressed|liquid fed",
    "supported": r"staked|supported|trellised|tied (?:in|up)|put (?:sticks|canes|supports|stakes) "
    r"(?:to|on|for|in for|up for)|caned|strung up",
    "mulched": r"mulched|mulching",
}
_POPPED = "chucked|bunged|popped|stuck|shoved|whacked|banged|tucked"
"""rough words for putting in, which tell nothing of seed or plants"""
_STUFF = (
    r"(?:(?:the|some|new|a|my|our|\d+) )?(?:sticks|stakes|canes|poles|supports?|posts|trellis(?:es)?|cages|"
    r"hoops|labels?|markers|drip|hoses?|irrigation|netting|nets?|fleece|cloches|an? hour|\d+ hours|compost|"
    r"manure|muck|mulch|straw)\b"
)
_NO_PLANT = rf"(?! {_STUFF})"
_ACTS: tuple[tuple[Act, str, str], ...] = (
    ("seed tested", "", r"germ(?:ination)?[ -]?tests?(?:ed)?|germ|tested"),
    ("seed saved", "", r"saved(?: seeds?(?: from)?)?|collected seeds?(?: from)?|kept seeds? from"),
    (
        "lost",
        "not up",
        r"(?:did not|didn't|never|hasn't|haven't|have not|failed to) (?:come up|came up|germinated?|"
        r"emerged?|appear(?:ed)?|shown|showed|show)|germination failed|no germination",
    ),
    *(("tended", what, words) for what, words in _TENDED.items()),
    (
        "cleared",
        "",
        r"clear(?:e?d)(?: out| away)?|strimmed (?:off|down)|"
        r"(?:pulled|ripped|took|tore|dug|cut|grubbed) (?:out|up|down)(?! of)|dug in|composted|removed",
    ),
    (
        "planted out",
        "",
        r"plant(?:e?d|ing) out|transplant(?:e?d|ing)|set out|put out|bedded out|"
        r"(?:moved|put|set)(?= .*\bout\b)|planted up",
    ),
    (
        "started",
        "",
        rf"started off|started|"
        rf"sow(?:n|ed) (?:indoors|inside|under glass|in (?:modules|pots{UNNUMBERED}|trays))",
    ),
    (
        "sowed",
        "",
        r"(?:direct[ -]?)?(?:sowed|sown|sowd|sowwed|sowing|sewed|sewn|resown|resowed|re-sowed)|"
        r"seeded|drilled|sow|broadcast(?:ed)?",
    ),
    (
        "planted",
        "",
        rf"plantd|planted|planting|dibb(?:l?ed|ing)(?: in)?|(?:put|{_POPPED}) in(?! to\b){_NO_PLANT}|"
        rf"(?:put|{_POPPED})(?=[^,;]*\bin\b(?:[\s.\x1f]*$|\s*[,;]|\s*\x1f))(?! {_STUFF})",
    ),
    ("lost", "bolted", r"bolted|bolting|(?:have|has|had)? ?(?:gone|went|ran|run) to seed"),
    ("lost", "dried", r"dried (?:out|up)|shrivelled|shriveled|wilted and died"),
    ("lost", "diseased", r"rotted(?: off| away)?|damped off|went mou?ldy|mildewed|blighted"),
    ("lost", "scorched", r"scorched|got sunburnt"),
    ("lost", "frosted", r"frosted|(?:got )?caught by (?:the )?frost|killed by (?:the )?frost"),
    (
        "lost",
        "",
        r"eaten(?: by)?|destroyed(?: by)?|killed(?: by)?|wiped out(?: by)?|lost|died(?: off)?|"
        r"dead(?![- ]?head)|nibbled(?: by)?|(?<=something )ate|(?<=they )ate|failed|"
        r"stripped by|devoured|trashed|ruined(?: by)?|"
        r"wrecked(?: by)?|keeled over|collapsed|conked out|perished|shredded by|browsed by",
    ),
    ("lost", "other", r"trampled(?: on)?|trodden on|trod on|stood on|strimmed|mow(?:ed|n) over|"
     r"nicked|stolen|stole"),
    ("picked", "", r"pick(?:d|ed|t|ing)|picd|pikd|pict|harvest(?:e?d|ing)?|pulled|lifted|gathered|dug|cut|"
     r"cropped"),
    (
        "came up",
        "",
        r"(?:have |has )?(?:come|came|coming) (?:up|through)|(?:just )?(?:are |is )?(?:up|through)|"
        r"(?:have |has )?(?:germinated|emerged|sprouted)|(?:are |is )?(?:showing|germinating|emerging)|"
        r"(?:are |is )?(?:poking|popping|pushing|nosing|peeping|peeking)(?: their heads)? (?:through|up)",
    ),
    ("watered", "", r"water(?:e?d)|watering|irrigated|gave(?= .*\b(?:water|cans?)\b)|soaked"),
    (
        "seed got",
        "",
        r"bought|ordered and got|received|was given|got(?= .*\b(?:packets?|packs?|seeds?|sets)\b)",
    ),
)
PESTS: dict[Cause, str] = {
    "eaten": r"(?:squash|stink|harlequin|leaf[- ]?footed|potato) ?bugs?|(?:squash )?vine ?borers?|"
    r"(?:corn )?borers?|(?:tomato )?horn ?worms?|army ?worms?|pickle ?worms?|(?:corn )?ear ?worms?|"
    r"cabbage ?(?:worms?|loopers?)|(?:root )?maggots?|(?:fire )?ants?|grasshoppers?|armadillos?|coons?|"
    r"crows?|turkeys?|hogs?|pigs?|cows?|cattle|chipmunks?|nematodes?|thrips|(?:spider )?mites?|leaf ?miners?|"
    r"wallab(?:y|ies)|pademelons?|bandicoots?|cockatoos?|parrots?|rosellas?|currawongs?|"
    r"(?:white )?jassids?|leaf ?hoppers?|termites?|locusts?|crickets?|monkeys?|baboons?|porcupines?|"
    r"(?:wild )?boars?|peacocks?|"
    r"slugs?(?: and snails?)?|snails?|pigeons?|rabbits?|hares?|deer|mice|mouse|voles?|rats?|"
    r"badgers?|groundhogs?|woodchucks?|birds?|blackbirds?|sparrows?|caterpillars?|aphids?|flea ?beetles?|"
    r"carrot (?:root )?fly|cabbage (?:root fly|whites?)|squirrels?|foxes|fox|chickens?|chooks?|hens?|"
    r"ducks?|geese|dogs?|kangaroos?|emus?|warthogs?|sheep|goats?|"
    r"wireworms?|leek moths?|cutworms?|pheasants?|cats?|moles?|gophers?|possums?|raccoons?|"
    r"(?:colorado potato |mexican bean |colorado |asparagus |cucumber |bean |potato |japanese )?beetles?|"
    r"whitefly|earwigs?|woodlice|leatherjackets?|bugs?|insects?",
    "diseased": r"blossom[- ]end rot|(?:bacterial |fusarium |verticillium )?wilt|"
    r"(?:southern |early |late |potato )?blight|(?:powdery |downy )?mildew|rust|white rot|club ?root|"
    r"damping off|botrytis|grey mould|gray mold|virus|canker|scab|rot",
    "frosted": r"(?:the |a )?(?:late |hard |early )?frosts?|the cold|cold snap",
    "scorched": r"(?:the )?heat(?:wave)?|(?:the )?sun",
    "dried": r"(?:the )?drought|dry spell",
    "other": r"(?:the )?hail(?:storm)?|(?:the |a )?(?:thunder)?storms?|(?:the |a )?gales?|(?:the )?wind|"
    r"(?:the |a )?floods?|(?:the )?flooding|flooded|(?:the )?waterlogging|(?:the )?heavy rain|"
    r"(?:the )?(?:vandals|thieves|thief)",
}
_PEST_ACTS = (
    r"took|had|have had|got at|got into|got|ate|eaten|eat|attacked|hit|killed|destroyed|stripped|"
    r"wiped out|nibbled|chewed|trashed|demolished|decimated|devoured|finished off|flattened|smashed|drowned|"
    r"battered|ruined|wrecked|shredded|browsed|nipped|been at|dug up|dug out|uprooted|scratched (?:up|out)|"
    r"trampled(?: on)?|squashed|crushed|snapped|nicked|stole|took off with|washed away|washed out|"
    r"blew away|blew over"
)
CAUSES: tuple[Cause, ...] = get_args(Cause)
_UNSURE = r"ate|got|finished(?: with)?|done|took|did|have|has|had"

NOT_SO = "this tells what was not so"
REFUSED: tuple[tuple[str, str], ...] = (
    (
        r"\?\s*$|^\W*(?:when|how|what|what's|why|which|who|where|should|shall|can|could|did|do|does|is it|"
        r"are there|would)\b",
        "this is a question",
    ),
    (
        r"\b(?:tomorrow|next (?:week|month|year|spring|autumn|fall|summer|winter|\w+day))\b|"
        r"\b(?:will|shall|going to|gonna|need to|needs? \w+ing|must|should|might|may want|plan to|"
        r"planning to|want to|wants? to|have to|has to|ought to|don't forget|remember to|todo|"
        r"to do|hope to|would|could|due to be|about to|ready to)\b",
        "this tells what is to come",
    ),
    (
        r"\b(?:did not|didn't|do not|don't|not|never|haven't|hasn't|have not|wasn't|weren't|won't|cannot|"
        r"can't|without|forgot|nothing|isn't|aren't|no sign|(?:nearly|almost)(?! all| half| a )|"
        r"instead|except|but)\b",
        NOT_SO,
    ),
)
"""what can't be a fact of the diary, and why"""

NEGATIONS = frozenset(("no", "none", "hardly", "barely", "scarcely", "zero", "neither", "nor", "yet"))
"""words that turn the sense of what they stand with"""


def take_verb(scan: Scan) -> Verb | None:
    """What the clause tells, struck out of it; an unsure word tells only that something was done."""
    if _is_left(scan):
        return Verb("seed left", "", "left")
    found: list[tuple[int, int, Verb, tuple[int, int]]] = []
    for order, (act, what, words) in enumerate(_ACTS):
        match = scan.see(rf"\b(?:{words})(?![\w'])")
        if match is not None:
            found.append((order, match.start(), Verb(act, what, match[0]), match.span()))
    pest = see_pest(scan)
    taken = scan.see(rf"\b(?:{_PEST_ACTS})(?![\w'])") if pest else None
    if pest and taken and (not found or found[0][2].act in ("lost", "cleared", "picked", "seed got")):
        scan.strike(*taken.span())
        scan.drop(r"\bby\b")
        return Verb("lost", "", taken[0])
    if not found:
        unsure = scan.take(rf"\b(?:{_UNSURE})\b")
        return Verb("unclear", "", unsure[0]) if unsure else None
    _, _, verb, span = found[0]
    scan.strike(*span)
    return verb


def _is_left(scan: Scan) -> bool:
    if scan.see(r"\bseeds?\b|\bsets\b|\bpacket\b") and scan.see(r"\bleft\b|\bremaining\b"):
        scan.drop(r"\b(?:left|remaining|have|has|there is|there are|no)\b")
        return True
    return False


def see_pest(scan: Scan) -> tuple[Cause, str, tuple[int, int]] | None:
    """What took it: the cause, the words, where they stand."""
    for cause, words in PESTS.items():
        match = scan.see(rf"\b(?:{words})(?![\w'])")
        if match is not None:
            return cause, match[0], match.span()
    return None


def take_pest(scan: Scan) -> tuple[Cause, str] | None:
    found = see_pest(scan)
    if found is None:
        return None
    scan.strike(*found[2])
    scan.drop(r"\b(?:to|by)\b")
    return found[0], found[1].removeprefix("the ").removeprefix("a ")
