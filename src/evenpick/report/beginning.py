"""How the answers of a first garden were understood, so that a slip is seen before the plan is made."""

from __future__ import annotations

from evenpick.base.language import tell, tell_n
from evenpick.garden.begin import Answers, First
from evenpick.report.words import Words


def understood(answers: Answers, words: Words) -> str:
    """'Understood: 54 m² of open ground, for 4 people.'"""
    ground = []
    if answers.ground:
        ground.append(tell("{area} of open ground", area=words.area(answers.ground, 3)))
    if answers.tunnel:
        ground.append(tell("{area} in a tunnel", area=words.area(answers.tunnel, 3)))
    eaters = []
    if answers.people:
        eaters.append(tell_n("{n:,} person", "{n:,} people", answers.people))
    if answers.boxes:
        eaters.append(tell_n("{n:,} box", "{n:,} boxes", answers.boxes))
    both = tell(" and ")
    return tell("Understood: {ground}, for {eaters}.", ground=both.join(ground), eaters=both.join(eaters))


def left_out(first: First) -> tuple[str, ...]:
    """What is not wished for, each with its reason, under its heading; nothing where all is."""
    if not first.left_out:
        return ()
    heading = tell("Left out of the wishes, for it can't be counted on here (it stands in the file as a "
                   "comment):")
    return (heading, *(f"{item}: {why}." for item, why in first.left_out.items()))
