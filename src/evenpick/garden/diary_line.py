"""One line as a grower writes it, read into facts of the diary (docs/formats/diary-line.md).

Nothing is guessed: where a word, a day, an amount or a sowing may mean two things the line comes back with a
question, and where it can't be a fact with the reason. Answers are given by the question's key, and the line
is read again with them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import NoReturn

from evenpick.base.language import later, tell
from evenpick.garden.diary import Fact, Noted
from evenpick.garden.diary_amounts import Amounts
from evenpick.garden.diary_asides import without_asides
from evenpick.garden.diary_asking import Asked, Asker, Dated, Halt, Outcome, Refused, Understood, refuse
from evenpick.garden.diary_bounds import OLDEST
from evenpick.garden.diary_clause import Clause, take_apart
from evenpick.garden.diary_dates import Days
from evenpick.garden.diary_facts import ask_to_keep, facts_of
from evenpick.garden.diary_names import QUOTED, Names, day_words, take_crops
from evenpick.garden.diary_pieces import Piece, pieces_of
from evenpick.garden.diary_planted import only_planted
from evenpick.garden.diary_scan import Scan, normalised
from evenpick.garden.diary_verbs import NEGATIONS, NOT_SO, REFUSED, Verb, see_pest, take_verb
from evenpick.garden.diary_weather import speaks_of_weather

LONGEST = 500
"""signs of a line; more is a tale, not an entry"""
AS_NOTE = later("Put 'note:' before it to keep the words alone.")
HOW = later('Write what was done or seen, such as "sowed 4 m carrots bed 3" or "picked 1.2 kg peas".')
_AGAIN = re.compile(r"re-?so")
_SEED = ("kg", "plants", "seeds", "packets", "counts", "row", "area", "pieces")
KEPT: Mapping[str, tuple[str, ...]] = {
    "sowed": ("extent", "seeds", "trays", "share"),
    "started": ("extent", "seeds", "trays", "share"),
    "planted": ("extent", "seeds", "trays", "share"),
    "planted out": ("extent", "share"),
    "picked": ("kg", "between", "pieces", "plants", "seeds", "counts", "share"),
    "lost": ("extent", "pieces", "share"),
    "came up": ("share",),
    "tended": ("plants", "counts"),
    "watered": ("litres", "gallons"),
    "cleared": ("share",),
    "seed got": _SEED,
    "seed saved": _SEED,
    "seed tested": ("seeds", "counts"),
    "seed left": ("kg", "seeds", "counts"),
}
"""what each act has a place or a question for; 'extent' is one of metres of row, m², plants, a bare number"""
_NOTE = re.compile(r"\s*notes?\b\s*[:,-]*\s*(\S.*)", re.I | re.S)
_NO_LOSS = (
    r"(?:n't|\bnot|\bnever)\b(?: \w+){0,2} (?:lost|dead|eaten|killed|gone|die|died|frosted|destroyed)\b"
)
_NOT_SO_ALLOWED = (
    r"\bno rain(?:fall)?\b|\bno .*\bleft\b|\b(?:did not|didn't|never|hasn't|haven't|have not|failed to) "
    r"(?:come up|came up|germinated?|emerge|appear(?:ed)?|show(?:ed|n)?)\b|\bno germination\b|\bnearly ripe\b"
)


def read_line(text: str, today: date, names: Names, answers: Mapping[str, str] | None = None) -> Outcome:
    """What a line written on `today` tells; never raises for any text."""
    try:
        return _read(text, today, names, answers or {})
    except Halt as halt:
        return halt.outcome


def _read(text: str, today: date, names: Names, answers: Mapping[str, str]) -> Outcome:
    if len(text) > LONGEST:
        refuse(tell("the line is longer than {longest} signs.", longest=LONGEST),
               tell("Write one line for each thing that was done."))
    note = _NOTE.fullmatch(text)
    if note is not None:
        return Understood((Dated(today, Noted()),))
    line = without_asides(normalised(text), today, names)
    if not re.search(r"[^\W\d_]", line) and not re.search(r"-\d", line):
        refuse(tell("there are no words in it."), tell(HOW))
    _refuse_what_is_no_fact(line)
    clauses = [(piece, take_apart(piece.text, today, names)) for piece in pieces_of(line, names)]
    if not clauses:
        refuse(tell("there is nothing in it to keep."), tell(HOW))
    days = _days(
        [clause.days for _, clause in clauses], today, [piece.inherits for piece, _ in clauses], answers
    )
    facts: list[Dated] = []
    given, shared = "", _shared(clauses)
    for number, ((piece, clause), day) in enumerate(zip(shared, days, strict=True), 1):
        asker = Asker(number, answers)
        if _tells_no_act(clause):
            if piece.inherits and given == WORDS:
                continue  # the line's words are kept once
            more = any(after.inherits for after, _ in shared[number : number + 1])
            given = given if piece.inherits and given else _asked_verb(clause, more, asker)
            clause = _with_verb(clause, given, today, names)
        facts += [Dated(day, fact) for fact in _facts(clause, day, names, asker)]
    return Understood(tuple(facts))


def mere_words(text: str, names: Names) -> bool:
    """Whether nothing of a line is of the diary's kinds: no act, no crop, no number. Kept as words it is
    whole."""
    line = normalised(text)
    if re.search(r"\d", line):
        return False
    scan = Scan(line)
    return take_verb(scan) is None and take_crops(scan, names) is None


def _refuse_what_is_no_fact(line: str) -> None:
    line = re.sub(QUOTED, " ", line)
    two = re.search(r"\d+(?:,\d+)+", line)
    if two is not None:
        refuse(tell("'{number}' can be read in two ways.", number=two[0]),
               tell("Write decimals with a point, thousands without a mark, and a space after a comma "
                    "between two things."))
    said = line.lower()
    if not re.search(r"\byet\b", said):  # what is not up yet may still come
        said = re.sub(_NOT_SO_ALLOWED, " ", said)
    for words, why in REFUSED:
        if re.search(words, said):
            if why == NOT_SO and re.search(_NO_LOSS, said):
                refuse(tell("it tells that something was not lost."), tell(
                    "Where a line told that it was, undo that line; else put 'note:' before it to keep the "
                    "words alone."))
            _refuse_as_no_fact(why)


def _refuse_as_no_fact(why: str) -> NoReturn:
    refuse(tell("{why}; the diary keeps what was done or seen.", why=why), f"{tell(HOW)} {tell(AS_NOTE)}")


def _days(
    told: list[Days | None], today: date, inherits: list[bool], answers: Mapping[str, str]
) -> list[date]:
    """The day of each clause: its own, else the first told, else today; asked where only a later tells."""
    asker = Asker(0, answers)
    read = [None if each is None else _day(each, today, asker) for each in told]
    if len({day for day in read if day is not None}) == 1 and read[0] is None and not all(inherits[1:]):
        other = next(day for day in read if day is not None)
        if other != today:
            given = asker.ask(
                "date",
                tell("Is all of the line of {other}?", other=day_words(other)),
                [("all", tell("yes, all of it")), ("own", tell("no, what has no day is of today"))],
            )
            return [other if given == "all" else day or today for day in read]
    found, last = [], next((day for day in read if day is not None), today) if all(inherits[1:]) else today
    for day in read:
        last = day or last
        found.append(last)
    return found


def _day(days: Days, today: date, asker: Asker) -> date:
    if days.vague:
        given = asker.ask("date", tell("Which day is '{words}'?", words=days.words.strip()), (), "2027-06-03")
        try:
            found = date.fromisoformat(given)
        except ValueError:
            refuse(tell("'{given}' is no day.", given=given),
                   tell("Write it as year-month-day, such as 2027-06-03."))
    elif not days.days:
        refuse(tell("there is no such day as '{words}'.",
                    words=days.words.strip()), tell("Look at the date again."))
    elif len(days.days) > 1:
        found = date.fromisoformat(
            asker.ask(
                "date",
                tell("Which day is '{words}'?", words=days.words.strip()),
                [(day.isoformat(), tell("{day} {year}", day=day_words(day), year=day.year))
                 for day in days.days],
            )
        )
    else:
        found = days.days[0]
    if found < today - OLDEST:
        refuse(tell("{found} {year} is no day of this diary.", found=day_words(found), year=found.year),
               tell("Look at the date again."))
    if found > today:
        refuse(tell("{found} {year} is still to come; the diary keeps what was done.", found=day_words(found),
                    year=found.year), tell(AS_NOTE))
    return found


def _shared(clauses: list[tuple[Piece, Clause]]) -> list[tuple[Piece, Clause]]:
    """As `_shared_ground`, and 'lost half the turnips, resowed 2 m' resows turnips."""
    shared = _shared_ground(clauses)
    for at in range(1, len(shared)):
        (piece, clause), before = shared[at], shared[at - 1][1]
        again = clause.verb is not None and _AGAIN.match(clause.verb.words) is not None
        if again and not clause.keys and before.keys:
            grounds = clause.grounds or before.grounds
            shared[at] = (piece, replace(clause, crop=before.crop, variety=before.variety,
                                         varieties=before.varieties, grounds=grounds))
    return shared


def _shared_ground(clauses: list[tuple[Piece, Clause]]) -> list[tuple[Piece, Clause]]:
    """'Sowed 4 m carrots and 2 m radish in bed 3' is both in bed 3."""
    shared = list(clauses)
    for at in range(len(shared) - 2, -1, -1):
        (piece, clause), (after, following) = shared[at], shared[at + 1]
        sown = clause.verb is not None and clause.verb.act in ("sowed", "planted", "planted out", "started")
        if after.inherits and sown and not clause.grounds and not clause.wrong_ground and following.grounds:
            shared[at] = (piece, replace(clause, grounds=following.grounds))
    return shared


def _facts(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    _refuse_no_verb(clause, names, asker)
    if clause.wrong_ground and names.grounds:
        known = [(ground.name, ground.name) for ground in names.grounds]
        given = asker.ask(
            "ground", tell("There is no '{wrong_ground}' in the garden. Which ground was it?",
                           wrong_ground=clause.wrong_ground), known
        )
        clause = replace(clause, grounds=(given,))
    return facts_of(clause, day, names, asker)


WORDS = "words"
DONE: tuple[tuple[str, str], ...] = (
    ("sowed", later("sown")),
    ("planted", later("planted: sets, cloves, tubers, or plants put out")),
    ("picked", later("picked")),
    ("lost", later("lost, all or some of it")),
    ("came up", later("come up")),
    ("cleared", later("cleared away, all of it")),
    ("watered", later("watered")),
    (WORDS, later("none of these: keep the words alone")),
)
"""what is offered where no word tells what was done with a crop"""


def _tells_no_act(clause: Clause) -> bool:
    """Whether it names a crop and no word that is known tells what was done with it."""
    told = clause.verb is not None and clause.verb.act != "unclear"
    return not told and (clause.crop is not None or bool(clause.varieties))


def _with_verb(clause: Clause, given: str, today: date, names: Names) -> Clause:
    """The clause with what was done, as it was answered. What then is left unread stays in the line's words,
    as the question says, but for another crop or a word that turns the sense."""
    if given == WORDS:
        return replace(clause, verb=Verb("words"), left=(), amounts=Amounts(), wrong_ground="")
    read = take_apart(f"{given} {clause.text}", today, names)
    left = tuple(word for word in read.left if word in NEGATIONS or word in names.words)
    return replace(read, left=left, grounds=read.grounds or clause.grounds)


def _asked_verb(clause: Clause, more: bool, asker: Asker) -> str:
    """`more` of the kind stands after it, of which the same is taken to have been done."""
    pest = see_pest(clause.scan)
    if pest is not None and clause.crop is not None:
        text = tell("Was anything lost to it? If so, how much is asked next, or write such as \"{pest} took "
                    "half of the {crop}\"; where nothing was, put 'note:' before the line.",
                    pest=pest[1].removeprefix("the "), crop=clause.crop[0])
        return asker.ask("verb", text, [("lost", tell("yes"))])
    said = re.sub(r"\s+(?=[,;.])", "", clause.text.strip())
    what = tell("'{text}', and what stands after it", text=said) if more else f"'{said}'"
    text = tell("What was done with {what}? What else of it can't be read stays in its words alone.",
                what=what)
    return asker.ask("verb", text, [(word, tell(told)) for word, told in DONE])


def _refuse_no_verb(clause: Clause, names: Names, asker: Asker) -> None:
    """Halts where nothing tells what was done, or where words were left that were not read."""
    verb, words = clause.verb, ", ".join(f"'{word}'" for word in clause.left)
    if verb is None or verb.act == "unclear":  # of no crop: `_with_verb` has asked of the others
        if speaks_of_weather(Scan(clause.text)):
            return
        refuse(tell("it does not tell what was done or seen."), f"{tell(HOW)} {tell(AS_NOTE)}")
    if clause.left:
        if not clause.keys and verb.act not in ("watered", "tended"):
            refuse(
                tell("no crop of the catalogue is named; {words} could not be read.", words=words),
                tell("Write a crop by a name the catalogue has. {as_note}", as_note=tell(AS_NOTE)),
            )
        if NEGATIONS.issuperset(clause.left):  # what it is said of was read, and would be kept the other way
            _refuse_as_no_fact(NOT_SO)
        ask_to_keep(tell("{words} could not be read.", words=words), asker)
    act = "planted" if verb.act == "planted out" and only_planted(clause, names) else verb.act
    kept = () if act == "tended" and not clause.keys else KEPT.get(act, ())
    if act in ("watered", "tended") and clause.amounts.share == 1.0:
        kept = (*kept, "share")  # all of it is what is meant without a word
    if act in ("sowed", "planted") and not clause.amounts.extent():
        kept = (*kept, "kg")  # the amount is asked for
    over = clause.amounts.beyond(kept)
    if over:
        ask_to_keep(tell("What {over} is about was not clear.", over=over), asker)


__all__ = ["Asked", "Dated", "Outcome", "Refused", "Understood", "mere_words", "read_line"]
