"""Saving seed of one crop: does it come true, what crosses, what it takes."""

from __future__ import annotations

from evenpick.base.language import later, tell, tell_n
from evenpick.report.cautions import take_care
from evenpick.report.page import Block, Heading, Items, Page, Text
from evenpick.report.words import Words, sentence
from evenpick.service.saving import SavingAnswer

TRUE = {"yes": later("It comes true"), "mostly": later("It comes mostly true"),
        "no": later("It does not come true")}


def saving_page(answer: SavingAnswer, words: Words) -> Page:
    blocks: list[Block] = [Text(f"{tell(TRUE[answer.true])}: {answer.why}.")]
    if answer.crosses:
        apart = "" if answer.isolation_m is None else tell(", closer than {isolation_m}",
                                                           isolation_m=words.row(answer.isolation_m))
        blocks += [
            Heading(tell("would cross with")),
            Items(tuple(f"{words.name(one.name)}: {one.when}" for one in answer.crosses)),
            Text(tell("Anything of {species} in flower at the same time{apart}.", species=answer.species,
                      apart=apart)),
        ]
    if answer.cycle != "clone":
        blocks += [Heading(tell("what it takes")),
                   Text(tell_n("{n} plant holds about {area_m2}. To keep it out of the plan until the "
                               "seed is ripe, write it in the garden file as ground at rest ([[rest]]).",
                               "{n} plants hold about {area_m2}. To keep it out of the plan until the "
                               "seed is ripe, write it in the garden file as ground at rest ([[rest]]).",
                               answer.plants, area_m2=words.area(answer.area_m2)))]
    blocks += [Heading(tell("how")), Items(tuple(sentence(tell(step)) for step in answer.steps))]
    blocks += take_care(((answer.name, said) for said in answer.cautions), words)
    blocks.append(Text("; ".join(f"{what}: {source}" for what, source in answer.sources) + "."))
    return Page(tell("Saving seed: {name} ({species})", name=words.name(answer.name),
                     species=answer.species), tuple(blocks))
