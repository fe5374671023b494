"""What a loss leaves bare and what can fill it, in a sentence (docs/design/season.md, 8)."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.arrays import Bools
from evenpick.base.days import short_date
from evenpick.base.language import later, tell, tell_n
from evenpick.crops.catalogue import load_catalogue
from evenpick.service.loss_answer import Filling


def loss_words(
    item: str, bare: Bools, fillings: Sequence[Filling], instead: Sequence[Filling],
    besides: Sequence[Filling],
) -> str:
    if not bare.any():
        return tell("What stands and what is planned still give at least half of the {item} wanted in "
                    "its weeks.", item=item)
    weeks = int(bare.sum())
    left = tell_n("It leaves {n} week of {item} more than half bare.",
                  "It leaves {n} weeks of {item} more than half bare.", weeks, item=item)
    if fillings:
        best = fillings[0]
        room = "" if best.room else tell(", if ground is found for it")
        said = later("{left} {name} sown on {sow} can give something in {weeks} of them{room}.")
        if best.way == "planted":
            said = later("{left} {name} planted on {sow} can give something in {weeks} of them{room}.")
        return tell(said, left=left, name=_told(best), sow=short_date(best.sow), weeks=len(best.weeks),
                    room=room)
    if instead:
        names = ", ".join(map(_told, instead))
        return tell("{left} Nothing of it sown from now can fill them. What can stand in for it: {names}.",
                    left=left, names=names)
    if besides:
        names = ", ".join(map(_told, besides))
        return tell("{left} Nothing of it sown from now can fill them, and nothing of its use at the table "
                    "stands in for it: buy in, or go without. What else the ground can give in those weeks: "
                    "{names}.", left=left, names=names)
    return tell("{left} Nothing sown from now can fill them: buy in, or go without.", left=left)


def _told(filling: Filling) -> str:
    return load_catalogue().crop(filling.crop).told_as(filling.name).told
