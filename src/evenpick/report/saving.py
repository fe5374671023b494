"""Saving seed of one crop: does it come true, what crosses, what it takes."""

from __future__ import annotations

from evenpick.report.cautions import take_care
from evenpick.report.page import Block, Heading, Items, Page, Text
from evenpick.report.words import Words, sentence
from evenpick.service.saving import SavingAnswer

TRUE = {"yes": "It comes true", "mostly": "It comes mostly true", "no": "It does not come true"}


def saving_page(answer: SavingAnswer, words: Words) -> Page:
    blocks: list[Block] = [Text(f"{TRUE[answer.true]}: {answer.why}.")]
    if answer.crosses:
        apart = "" if answer.isolation_m is None else f", closer than {words.row(answer.isolation_m)}"
        blocks += [
            Heading("would cross with"),
            Items(tuple(f"{words.name(one.name)}: {one.when}" for one in answer.crosses)),
            Text(f"Anything of {answer.species} in flower at the same time{apart}."),
        ]
    if answer.cycle != "clone":
        blocks += [Heading("what it takes"),
                   Text(f"{answer.plants} plants hold about {words.area(answer.area_m2)}. To keep it out of "
                        "the plan until the seed is ripe, write it under [[rest]] in the garden file.")]
    blocks += [Heading("how"), Items(tuple(sentence(step) for step in answer.steps))]
    blocks += take_care(((answer.name, said) for said in answer.cautions), words)
    blocks.append(Text("; ".join(f"{what}: {source}" for what, source in answer.sources) + "."))
    return Page(f"Saving seed: {words.name(answer.name)} ({answer.species})", tuple(blocks))
