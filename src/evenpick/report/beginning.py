"""How the answers of a first garden were understood, so that a slip is seen before the plan is made."""

from __future__ import annotations

from evenpick.base.language import tell, tell_n
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.begin import Answers, First
from evenpick.garden.likes_but import never_keys
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


def rain_alone(answers: Answers) -> str:
    """That nobody waters the open ground; '' where somebody does, or there is none."""
    if answers.watered or not answers.ground:
        return ""
    return tell("The open ground is left to the rain: sowings wait for it, and yields are what it lets grow.")


def not_counted(answers: Answers) -> str:
    """What is sold to without a word of how much; '' where nothing is."""
    if not answers.selling:
        return ""
    return tell("Not counted: {selling}, for how much goes there in a week was not said. Lines for it stand "
                "in the file as a comment.", selling=", ".join(answers.selling))


def never(answers: Answers, words: Words) -> str:
    """What is never to be grown, by its names; '' where that is nothing."""
    catalogue = load_catalogue()
    names = ", ".join(words.name(catalogue.crop(key).name) for key in never_keys(answers.nevers, catalogue))
    return tell("Never to be grown: {names}.", names=names) if names else ""


def doubted(answers: Answers, first: First, words: Words) -> str:
    """What the ground can about feed, where the wishes need more than there is; '' where they need not."""
    there, need = answers.ground + answers.tunnel, first.ground
    if need <= there:
        return ""
    what = tell("All that is wished for needs at least {need} of ground all year round, at the best pace of "
                "each crop in a good stand, and there are {there}.",
                need=words.area(need, 2), there=words.area(there, 3))
    share, some = there / need, []
    if answers.people > 1:
        some.append(tell_n("{some:,} of {n:,} person", "{some:,} of {n:,} people", answers.people,
                           some=max(1, int(answers.people * share))))
    if answers.boxes > 1:
        some.append(tell_n("{some:,} of {n:,} box", "{some:,} of {n:,} boxes", answers.boxes,
                           some=max(1, int(answers.boxes * share))))
    enough = [tell("With all of it, it is enough for about {some} at the best.",
                   some=tell(" and ").join(some))] if some else []
    if first.fed < answers.people:
        mend = tell("The wishes are written for {n:,} of them (\"shares\" in the file), so that there is "
                    "some of each: for all of them one or two things would take all the ground.", n=first.fed)
    else:
        mend = tell("Wish for less each week, or for fewer things.")
    return " ".join([what, *enough, mend])


def read_back(answers: Answers, first: First, words: Words) -> tuple[str, ...]:
    """How the answers were understood, what is never to be grown or was not counted, and whether the ground
    is enough."""
    said = (understood(answers, words), rain_alone(answers), not_counted(answers), never(answers, words),
            doubted(answers, first, words))
    return tuple(filter(None, said))


def left_out(first: First) -> tuple[str, ...]:
    """What is not wished for, each with its reason, under its heading; nothing where all is."""
    if not first.left_out:
        return ()
    heading = tell("What is left out of the wishes stands in the file as a comment:")
    return (heading, *(f"{item}: {why}." for item, why in first.left_out.items()))
