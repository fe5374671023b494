"""One clause of a line taken apart: its verb, crop, variety, ground, amounts, day and what was not read."""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass
from datetime import date

from evenpick.base.trade import CoverName
from evenpick.garden.diary import Cause
from evenpick.garden.diary_amounts import Amounts, take_amounts
from evenpick.garden.diary_dates import Days, take_day
from evenpick.garden.diary_names import Names, take_crops, take_grounds, take_quoted, take_variety
from evenpick.garden.diary_scan import STRUCK, UNNUMBERED, UNWEIGHED, WHICHEVER, Scan, plain
from evenpick.garden.diary_verbs import Verb, take_pest, take_verb

_COVERS: tuple[tuple[CoverName, str], ...] = (
    ("fleece", r"fleece|row cover|agribon"),
    ("cloche", r"cloches?|low tunnels?|bell jars?"),
)
_RAISED = (
    r"\b(?:to raise(?: plants)?|indoors|inside|under glass|under lights|"
    rf"in (?:the |a )?(?:modules?|pots?{UNNUMBERED}|trays?|cells?|plugs?|"
    r"propagator|root ?trainers)|on (?:the |a )?(?:bench|windowsill|window sill|heat mat|heated bench))\b"
)
_IN_PLACE = (
    r"\b(?:in place(?! of)|in situ|direct(?:ly)?(?: (?:in|into|in to) the (?:soil|ground))?|"
    r"where (?:they|it) (?:are|is|will) (?:to )?(?:stay|grow))\b"
)
BOUGHT = (
    r"\b(?:(?:shop|store|garden[ -]cent(?:re|er)|nursery)[ -])?(?:bought|purchased)(?:[ -]in)?\b|"
    r"\bfrom (?:the |a |my |our )?(?:local )?"
    r"(?:garden cent(?:re|er)|nursery|plant (?:sale|stall)|market|shop|store)\b"
)
AS_PLANNED = (
    r"\b(?:just )?(?:as|like) (?:it was |they were |i |we )?planned\b|"
    r"\b(?:as per|per|to|according to) (?:the )?plan\b"
)
SOWN = r"\b(?:(?:that|which) (?:was |were |i |we )?)?(?:sown|sowed) (?:of |in )?"
EVERY, UNTOLD = "all", "not said"
_OF_EVERY = (
    r"\b(?:(?:in|of|from) )?(?:(?:all|both)(?: of)?(?: the| my| our)? (?:sowings|rows|batches|lots)|"
    r"(?:all|both) of them|every (?:sowing|row))\b"
)
_SEVERAL = ("came up", "tended", "watered", "cleared")
"""acts that may be told of several sowings at once"""
_NTH = (
    r"\b(?:from |of )?(?:the |my |our )?"
    r"(1st|first|2nd|second|3rd|third|4th|fourth|5th|fifth|6th|sixth|last|latest)"
    r"(?= (?:sowings?|succession)\b)"
)
_NUMBERS = {"fir": 1, "1st": 1, "sec": 2, "2nd": 2, "thi": 3, "3rd": 3, "fou": 4, "4th": 4, "fif": 5,
            "5th": 5, "six": 6, "6th": 6}
"""by the first three letters"""
LAST = -1
_IN_THE_OPEN = r"\b(?:in(?:to)? |on )?(?:the )?(?:open(?: (?:ground|beds?))?|outdoors|out of doors)\b"
_WHO = r"\b(?:class|year|form|grade|group) ?\d{1,2}[a-z]?\b"
"""who did it, or how good it was: no amount"""
_ENDS = ("came up", "picked", "lost", "cleared")
"""acts that may be told after the day on which the crop was sown"""
_FOR = (
    r"\bfor (?:our |my |the |a )?(?:tea|supper|dinner|lunch|breakfast|pot|kitchen|freezer|table|"
    r"salad|soup|sale)\b"
)
_EVERYWHERE = (
    r"\b(?:the lot|(?:all (?:of )?)?(?:the |my |our )?(?:whole )?(?:garden|plot|allotment)|"
    r"all (?:the |my |our )?(?:beds|crops|plots))\b"
)
"""what is watered or tended without a word of where"""
_WIDE = r"\d+(?:\.\d+)? ?(?:mm|cm|inch(?:es)?|in\b(?! [a-z])|\")"
_DISTANCE = (
    rf"\b(?:to|at|every) (?:about |around )?{_WIDE}(?: (?:apart|spacings?|between plants|between))?(?!\w)|"
    rf"(?<![\w.]){_WIDE} (?:apart|deep|spacings?|between plants|between)\b"
)
"""between plants, or of seed below ground: no amount of anything"""
_SPACED = ("sowed", "started", "planted", "planted out")
_NAMES_VARIETIES = ("sowed", "started", "planted", "seed got", "seed saved", "seed tested", "seed left")
"""acts in which quotes may name a variety that is new"""
_IDLE = """
a an the my our some any of in into on onto at to from for with and then also by it its it's this that
these those there them i we he she you just finally again another more first second last early late
lovely good nice great big small little lot lots about around abt roughly approx approximately only today's
now row rows bed beds seed seeds packet new fresh young ripe plant plants seedlings have has had is are
was were been be straw compost garden out off up down plot morning afternoon evening so done very nicely
well both sown still hand best dry damp wet moist soil between over one ok okay yes dear diary yay hooray
crop crops drill drills outside direct each every everything days time came tested
kids children pupils students class school wife husband mum dad neighbour neighbor
"""
IDLE = frozenset(_IDLE.split())
"""words that change nothing"""


@dataclass(frozen=True, slots=True)
class Clause:
    text: str
    verb: Verb | None
    days: Days | None
    grounds: tuple[str, ...]
    crop: tuple[str, tuple[str, ...]] | None
    """the word typed, and the crops that it may mean"""
    variety: str
    varieties: frozenset[tuple[str, str]]
    """(crop, variety) that the garden knows by the word"""
    amounts: Amounts
    cover: CoverName | None
    raised: bool
    in_place: bool
    """said to be sown where it stays"""
    bought: bool
    """plants that were raised elsewhere"""
    pest: tuple[Cause, str] | None
    germ: tuple[int, int] | None
    """(came, tried)"""
    in_days: int | None
    single: bool
    """one of the crop: 'a cucumber'"""
    wrong_ground: str
    """a bed told that the garden has not"""
    left: tuple[str, ...]
    """words not read"""
    scan: Scan
    as_planned: bool
    """said to be as the plan has it"""
    sown_on: tuple[date, ...] = ()
    """the days that may be meant where the sowing is named by its day: 'the radish sown 20 March'"""
    which: str = ""
    """EVERY or UNTOLD, where it is said of which sowings it is without naming one"""
    nth: int = 0
    """which of its crop's sowings it is, LAST the last; 0: not said"""
    unweighed: bool = False
    """said to be neither weighed nor counted"""

    @property
    def keys(self) -> tuple[str, ...]:
        """The crops it may be about, by its crop word and its variety together."""
        of_variety = {crop for crop, _ in self.varieties}
        if self.crop is None:
            return tuple(sorted(of_variety))
        both = tuple(key for key in self.crop[1] if key in of_variety)
        return both or self.crop[1]


def take_apart(text: str, today: date, names: Names) -> Clause:
    scan = Scan(text)
    quoted = take_quoted(scan)
    variety = take_variety(scan, names) if not quoted else names.varieties.get(plain(quoted), frozenset())
    named = next(iter(sorted(v for _, v in variety)), "") if variety else quoted
    to_plan = scan.take(AS_PLANNED) is not None
    sown_on = _take_sown_on(scan, today, names)
    nth = _take_nth(scan)
    grounds = take_grounds(scan, names)
    scan.drop(_WHO)
    wrong = scan.take(r"\b(?:bed|plot|section|block) ?(?:no\.? ?)?\d+\b")
    germ, in_days = _germ(scan)
    weather = scan.see(r"\b(?:frost|low|min|max|high|rain\w*|gauge)\b|(?<![\w.])-\d") is not None
    days = take_day(scan, today, names.day_first, weather)
    verb = take_verb(scan)
    pest = _pest_before_crop(scan, names) if verb is not None and verb.act == "lost" else None
    before = scan.left
    crop = take_crops(scan, names)
    single = _one_of(before, scan.left)
    cover = next(
        (
            name
            for name, words in _COVERS
            if scan.take(rf"\b(?:under|with|beneath) (?:the |a |some )?(?:{words})\b")
        ),
        None,
    )
    which = _take_which(scan, verb)
    unweighed = verb is not None and verb.act == "picked" and scan.take(rf"\b{UNWEIGHED}\b") is not None
    raised = scan.see(_RAISED) is not None
    scan.drop(_RAISED)
    in_place = verb is not None and verb.act == "sowed" and scan.take(_IN_PLACE) is not None
    bought = verb is not None and verb.act in ("planted", "planted out") and scan.take(BOUGHT) is not None
    if verb is not None and verb.act == "tended":
        scan.drop(
            r"\b(?:fleece|netting|nets?|cloches|canes|sticks|stakes|straw|compost|feed|comfrey|seaweed)\b"
        )
    if verb is not None and verb.act == "picked":
        scan.drop(_FOR)
    if verb is not None and verb.act in ("watered", "tended"):
        scan.drop(_EVERYWHERE)
    if verb is not None and verb.act == "lost" and pest is None:
        pest = take_pest(scan)
    if verb is not None and verb.act in _SPACED:
        scan.drop(_DISTANCE)
        cover = cover or ("open" if scan.take(_IN_THE_OPEN) is not None else None)
    amounts = take_amounts(scan)
    if verb is not None and verb.act == "picked":
        scan.drop(r"\b(?:leaves|pods)\b")
    if verb is not None and verb.act == "seed tested":
        scan.drop(r"\b(?:seeds?|came up|up|germinated|test)\b")
    left = tuple(word for word in scan.words() if word not in IDLE)
    if quoted and not variety and (verb is None or verb.act not in _NAMES_VARIETIES):
        named, left = "", (*left, quoted)  # a remark, or a variety that the garden never had
    return Clause(
        text,
        verb,
        days,
        grounds,
        crop,
        named,
        variety,
        amounts,
        cover,
        raised,
        in_place,
        bought,
        pest,
        germ,
        in_days,
        single and crop is not None and not crop[0].endswith("s"),
        wrong[0] if wrong else "",
        left,
        scan,
        to_plan,
        sown_on,
        which,
        nth,
        unweighed,
    )


def _take_nth(scan: Scan) -> int:
    """The number of the sowing that something else is told of, struck out with its word; of one that is made
    the number tells nothing."""
    match = scan.see(_NTH)
    if match is None:
        return 0
    scan.strike(*match.span())
    rest = copy(scan)
    rest.take(r"\b(?:sowings?|succession)\b")
    verb = take_verb(copy(rest))
    if verb is None or verb.act in ("unclear", "sowed", "started"):
        return 0
    scan.left = rest.left
    return _NUMBERS.get(match[1][:3], LAST)


def _take_which(scan: Scan, verb: Verb | None) -> str:
    if scan.take(rf"\b{WHICHEVER}\b") is not None:
        return UNTOLD
    several = verb is not None and verb.act in _SEVERAL
    return EVERY if several and scan.take(_OF_EVERY) is not None else ""


def _take_sown_on(scan: Scan, today: date, names: Names) -> tuple[date, ...]:
    """The day after 'sown', both struck out, where something else is told before it to have been done; none
    else."""
    said = scan.see(SOWN)
    if said is None:
        return ()
    verb, after = take_verb(Scan(scan.left[: said.start()])), Scan(scan.left[said.end() :])
    days = take_day(after, today, names.day_first)
    begins = len(after.left) - len(after.left.lstrip(STRUCK))
    if verb is None and take_crops(Scan(scan.left[: said.start()]), names) is not None:
        verb = take_verb(Scan(after.left))  # 'the radish sown 27 February all lost to frost'
        verb = verb if verb is not None and verb.act in _ENDS else None
    if verb is None or verb.act == "unclear" or days is None or days.vague or not begins:
        return ()
    scan.strike(said.start(), said.end() + begins)
    return days.days


def _pest_before_crop(scan: Scan, names: Names) -> tuple[Cause, str] | None:
    """The pest, struck out, where a crop is named beside it: squash bugs in the zucchini are no squash."""
    trial = copy(scan)
    pest = take_pest(trial)
    if pest is None or take_crops(copy(trial), names) is None:
        return None
    scan.left = trial.left
    return pest


def _one_of(before: str, after: str) -> bool:
    """Whether 'a', 'an' or 'another' stands right before what was struck out in between."""
    at = next((place for place, (a, b) in enumerate(zip(before, after, strict=True)) if a != b), 0)
    return before[:at].endswith((" a ", " an ", " another "))


def _germ(scan: Scan) -> tuple[tuple[int, int] | None, int | None]:
    if not scan.see(r"\b(?:germ(?:ination)?|test(?:ed)?)\b"):
        return None, None
    match = scan.take(r"(?<![\d.])(\d{1,6}) ?(?:of|out of|/|from|in) ?(\d{1,6})\b(?! days)")
    in_days = scan.take(r"\b(?:in|after|within) (\d{1,3}) days\b")
    return ((int(match[1]), int(match[2])) if match else None), (int(in_days[1]) if in_days else None)
