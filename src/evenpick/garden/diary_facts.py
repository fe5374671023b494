"""The facts of one clause, once its crop and its sowing are known."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import date

from evenpick.base.days import day_number
from evenpick.base.language import tell
from evenpick.base.trade import ALSO_CALLED, several
from evenpick.garden.amounts import weight_told
from evenpick.garden.diary import (
    CameUp,
    Cleared,
    Fact,
    Noted,
    Picked,
    Tended,
    Tending,
    Watered,
)
from evenpick.garden.diary_amounts import GALLONS, Amounts, take_amounts
from evenpick.garden.diary_asking import Asker, refuse
from evenpick.garden.diary_clause import IDLE, Clause
from evenpick.garden.diary_lost import lost
from evenpick.garden.diary_names import Names
from evenpick.garden.diary_planted import one_ground, only_planted, planted, planted_out
from evenpick.garden.diary_scan import Scan, normalised
from evenpick.garden.diary_seed import seed_facts
from evenpick.garden.diary_sowing import crop_of, one, sowings_of, under_way
from evenpick.garden.diary_sown import sowings
from evenpick.garden.diary_weather import take_weather
from evenpick.garden.plausible import doubt_picking

_COVERED = (
    r"\b(?:in|inside|under|of) (?:the |a |my |our )?(?:\w+ )?(?:(?:poly|high |low )?tunnels?|"
    r"(?:green|glass|hoop)[ -]?houses?|conservatory|porch|shed|(?:cold )?frames?|propagator|fleece|cloches?|"
    r"glass)\b"
    r"|\b(?:indoors|inside)\b"
)
LARGEST = 1e5
"""kg, m, pieces: beyond this it is a slip of the pen"""


def facts_of(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    """What the clause tells, one fact or several; halts with a question or a refusal."""
    verb = clause.verb
    if verb is None:
        return (_weather(clause, names, asker),)
    if verb.act == "words":
        return (Noted(),)
    _sane(clause.amounts)
    if verb.act == "unclear":  # 'got an inch of rain'
        return (_weather(clause, names, asker),)
    if verb.act in ("seed got", "seed saved", "seed tested", "seed left"):
        return seed_facts(verb.act, clause, names, asker)
    if verb.act == "planted" or (verb.act == "planted out" and only_planted(clause, names)):
        return planted(clause, day, names, asker)
    if verb.act in ("sowed", "started"):
        return sowings(clause, day, names, asker, "raised" if verb.act == "started" else None)
    made = {
        "planted out": planted_out,
        "picked": _picked,
        "lost": lost,
        "came up": _came_up,
        "tended": _tended,
        "watered": _watered,
        "cleared": _cleared,
    }
    return made[verb.act](clause, day, names, asker)


def _weather(clause: Clause, names: Names, asker: Asker) -> Fact:
    """The readings; whatever else stands in the clause is asked about."""
    if _under_cover(clause, names):
        text = tell("The weather that is kept here is that in the open, by which all is reckoned. Keep this "
                    "in its words alone?")
        asker.ask("inside", text, [("words", tell("yes, the words alone"))])
        return Noted()
    told = clause.text.lower()
    scan = Scan(told.replace(clause.days.words.strip(), " ") if clause.days is not None else told)
    if clause.verb is not None:
        scan.drop(rf"\b{re.escape(clause.verb.words)}\b")
    reading = take_weather(scan, names.imperial, None if clause.days is None else clause.days.words, asker)
    left = [word for word in scan.words() if word not in IDLE]
    if left:
        words = ", ".join(f"'{word}'" for word in left)
        ask_to_keep(tell("{words} could not be read.", words=words), asker)
    return reading


def _under_cover(clause: Clause, names: Names) -> bool:
    """Whether what was measured is told of ground under cover, or of a room."""
    grounds = [names.ground(name) for name in clause.grounds]
    return any(ground is not None and ground.cover != "open" for ground in grounds) or (
        Scan(clause.text.lower()).see(_COVERED) is not None)


def ask_to_keep(why: str, asker: Asker) -> None:
    """Halts unless the grower lets the rest count."""
    text = f"{why} Leave it in the words only, and keep the rest as read?"
    asker.ask("words", text, [("keep", tell("yes, keep the rest as read"))])


def _sane(amounts: Amounts) -> None:
    for value in amounts.values():
        if not math.isfinite(value) or not 0 < value <= LARGEST:
            why = tell("nought or less") if value <= 0 else tell("more than anyone grows")
            refuse(tell("an amount is {why}.", why=why), tell("Look at the amount again."))


def _picked(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    fitting = under_way(names, clause, "picked", day_number(day))
    crop = crop_of(names, clause, asker, fitting)
    ground = one_ground(clause, asker)
    kg, pieces = _picking(clause, crop, names, asker)
    sowing = sowings_of(names, clause, asker, fitting, crop, "picked", False, True)[0]
    doubt_picking(kg, pieces, crop, sowing, names, asker)
    return (Picked(crop, sowing, ground, kg, pieces),)


def _picking(clause: Clause, crop: str, names: Names, asker: Asker) -> tuple[float | None, float | None]:
    """kg and pieces; both None is not weighed."""
    amounts = clause.amounts
    piece, kg, pieces = names.crops[crop].piece, amounts.kg, amounts.pieces
    if clause.single and kg is None and pieces is None and piece not in ("kg", "bunch"):
        return None, 1.0
    counted = (
        *amounts.counts,
        *([amounts.plants] if amounts.plants else []),
        *([amounts.seeds] if amounts.seeds else []),
    )
    if clause.unweighed and kg is None and pieces is None and (piece in ("kg", "bunch") or not counted):
        return None, None
    if amounts.between is not None and kg is None:
        return _asked_between(*amounts.between, piece, names, asker)
    every = amounts.share == 1.0 and (kg is not None or pieces is not None)  # 'lifted all the leeks, 9.5 kg'
    if (amounts.share is not None and not every) or len(counted) > 1:
        return _asked_picking(tell("How much was picked?"), piece, asker)
    if pieces is not None and not _is_counted_by(amounts.piece, piece):
        told = (
            tell("{crop} is counted by the {piece}, not by the {amounts_piece}.", crop=names.name(crop),
                 piece=piece, amounts_piece=amounts.piece)
            if piece != "kg"
            else tell("{crop} is weighed, not counted by the {piece}.", crop=names.name(crop),
                      piece=amounts.piece)
        )
        return _asked_picking(tell("{told} How much was picked?", told=told), piece, asker)
    if counted and pieces is None:
        whole = counted[0] == int(counted[0])
        if piece in ("kg", "bunch") or not whole:
            if kg is not None:
                ask_to_keep(
                    tell("{crop} is kept by weight here, not by number ({counted:g}).", crop=names.name(crop),
                         counted=counted[0]), asker
                )
                return kg, None
            return _asked_picking(
                tell("{counted:g} of what? {crop} is told by weight{part}.", counted=counted[0],
                     crop=names.name(crop), part=tell(" or by the bunch") if piece == "bunch" else ""),
                piece,
                asker,
            )
        pieces = counted[0]
    return kg, pieces


def _asked_between(
    low: float, high: float, piece: str, names: Names, asker: Asker
) -> tuple[float | None, float | None]:
    """Of a weight told as from one to another; the diary keeps one."""
    low_told, high_told = (weight_told(each, names.imperial) for each in (low, high))
    text = tell("How much was picked, as near as you know it? From {low} to {high} is not one weight.",
                low=low_told, high=high_told)
    offered = [(f"{each:g} kg", weight_told(each, names.imperial)) for each in (low, (low + high) / 2, high)]
    return _asked_picking(text, piece, asker, offered)


def _asked_picking(
    text: str, piece: str, asker: Asker, offered: Sequence[tuple[str, str]] = ()
) -> tuple[float | None, float | None]:
    example = "1.2 kg" if piece == "kg" else f"1.2 kg, or 3 {several(piece)}"
    given = asker.ask("unit", text, [*offered, ("not weighed", tell("not weighed, not counted"))], example)
    if given == "not weighed":
        return None, None
    amounts = take_amounts(Scan(normalised(given).lower()))
    _sane(amounts)
    counted = amounts.pieces is not None and _is_counted_by(amounts.piece, piece)
    if amounts.kg is None and not counted:
        refuse(tell("'{given}' is no amount of it.",
                    given=given), tell("Write it such as {example}.", example=example))
    return amounts.kg, amounts.pieces


def _is_counted_by(word: str, piece: str) -> bool:
    return word in (piece, *ALSO_CALLED.get(piece, ()))


def _came_up(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    fitting = under_way(names, clause, "came up", day_number(day))
    crop = crop_of(names, clause, asker, fitting)
    share = clause.amounts.share
    if share is not None and not 0 <= share <= 1:
        refuse(tell("{share:.0%} of it can't be up.", share=share), tell("Write a share up to 100 %."))
    found = sowings_of(names, clause, asker, fitting, crop, "came up", True, False)
    return tuple(CameUp(one([each]), share) for each in found)


def _tended(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    assert clause.verb is not None
    what: Tending = clause.verb.what  # type: ignore[assignment]
    return tuple(Tended(what, sowing, ground) for sowing, ground in _about(clause, day, names, asker, what))


def _about(
    clause: Clause, day: date, names: Names, asker: Asker, act: str
) -> list[tuple[str | None, str | None]]:
    """Sowings and ground that were tended: a crop's, or all that stands on the ground told."""
    if not clause.keys:
        return [(None, ground) for ground in clause.grounds] or [(None, None)]
    fitting = under_way(names, clause, act, day_number(day))
    crop = crop_of(names, clause, asker, fitting)
    found = sowings_of(names, clause, asker, fitting, crop, act, True, False)
    ground = one_ground(clause, asker)
    return [(sowing, ground) for sowing in found]


def _watered(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    litres = clause.amounts.litres
    if clause.amounts.gallons is not None:
        which = "US" if names.american and names.imperial else asker.ask(
            "unit", tell("Which gallons?"),
            [("US", tell("US gallons, 3.8 l")), ("imperial", tell("imperial gallons, 4.5 l"))],
        )
        litres = clause.amounts.gallons * GALLONS[which]
    about = _about(clause, day, names, asker, "watered")
    if litres is not None and len(about) > 1:
        refuse(tell("one amount of water on several places can't be told apart."),
               tell("Write a line for each place."))
    return tuple(Watered(sowing, ground, litres) for sowing, ground in about)


def _cleared(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    fitting = under_way(names, clause, "cleared", day_number(day))
    crop = crop_of(names, clause, asker, fitting) if clause.keys or not clause.grounds else None
    found = sowings_of(names, clause, asker, fitting, crop, "cleared", True, False)
    if clause.amounts.share not in (None, 1.0) or clause.amounts.some:
        asker.ask("share", tell("Cleared tells that all of it is gone. Is it?"),
                  [("1", tell("yes, all of it"))])
    return tuple(Cleared(one([each])) for each in found)
