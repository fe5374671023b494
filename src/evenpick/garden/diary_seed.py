"""What a line tells of seed: got, saved, tested, left."""

from __future__ import annotations

from evenpick.base.language import tell
from evenpick.garden.diary import Fact, SeedGot, SeedLeft, SeedTested
from evenpick.garden.diary_asking import Asker, refuse
from evenpick.garden.diary_clause import Clause
from evenpick.garden.diary_names import Names
from evenpick.garden.diary_scan import Scan

MOST_PACKETS = 50


def seed_facts(act: str, clause: Clause, names: Names, asker: Asker) -> tuple[Fact, ...]:
    if act in ("seed got", "seed saved"):
        return _got(clause, names, asker, act == "seed saved")
    packet = _packet(clause, names, asker)
    if act == "seed left":
        empty = Scan(clause.text.lower()).see(r"\bno\b") is not None
        amounts = clause.amounts
        seeds = 0.0 if empty else amounts.seeds or (amounts.counts[0] if amounts.counts else None)
        grams = amounts.kg * 1000 if amounts.kg is not None else None
        if seeds is None and grams is None:
            refuse(
                tell("how much seed is left was not told."),
                tell('Write it such as "200 onion seeds left" or "2 g of onion seed left".'),
            )
        return (SeedLeft(packet, seeds, grams),)
    if clause.germ is None:
        given = asker.ask("amount", tell("How many came up, of how many tried?"), (), "43 of 50")
        match = Scan(given.lower()).see(r"^(\d{1,6}) ?(?:of|out of|/) ?(\d{1,6})$")
        if match is None:
            refuse(tell("'{given}' does not tell how many came up.",
                        given=given), tell("Write it such as 43 of 50."))
        came, tried = int(match[1]), int(match[2])
    else:
        came, tried = clause.germ
    if not 0 <= came <= tried or tried == 0:
        refuse(
            tell("{came} of {tried} can't have come up.", came=came, tried=tried),
            tell("Write first how many came up, then how many were tried."),
        )
    return (SeedTested(packet, tried, came, clause.in_days),)


def _crop(clause: Clause, names: Names, asker: Asker) -> str:
    keys = clause.keys or tuple(sorted(names.grown))
    if clause.keys:
        if "onion-sets" in keys and len(keys) > 1:
            sets = Scan(clause.text.lower()).see(r"\bsets\b") is not None
            return "onion-sets" if sets else "onion"
        grown = [key for key in keys if key in names.grown]
        for some in (list(keys), grown):
            if len(some) == 1:
                return some[0]
    return asker.ask("crop", tell("Seed of which crop?"), [(key, names.name(key)) for key in keys[:12]])


def _got(clause: Clause, names: Names, asker: Asker, saved: bool) -> tuple[Fact, ...]:
    if not clause.keys and not Scan(clause.text.lower()).see(
        r"\b(?:seeds?|packets?|sets|tubers|cloves|slips|packs?)\b"
    ):
        refuse(tell("no crop of the catalogue is named."),
               tell("A diary keeps seed that was got, by its crop."))
    crop, amounts = _crop(clause, names, asker), clause.amounts
    variety = next((variety for key, variety in sorted(clause.varieties) if key == crop), clause.variety)
    packets = amounts.packets or 1
    if packets > MOST_PACKETS:
        refuse(tell("{packets} packets at once can't be.",
                    packets=packets), tell("Look at the number again."))
    counted = amounts.counts[0] if amounts.counts and names.crops[crop].ways == ("planted",) else None
    if (
        (amounts.counts and counted is None)
        or amounts.row is not None
        or amounts.area is not None
        or amounts.pieces is not None
    ):
        refuse(tell("how much seed it was is not clear."),
               tell('Write it such as "2 packets", "500 seeds" or '
                                                          '"10 g".'))
    if amounts.plants is not None and not saved and names.crops[crop].ways != ("planted",):
        refuse(tell("plants that were bought are no seed for the tin."),
               tell('Write them when they are in the ground, such as "planted 24 bought lettuces in bed 2".'))
    grams = amounts.kg * 1000 if amounts.kg is not None else None
    fact = SeedGot(crop, variety, seeds=amounts.seeds or amounts.plants or counted, grams=grams, saved=saved)
    return (fact,) * packets


def _packet(clause: Clause, names: Names, asker: Asker) -> str:
    spoken = {variety.lower() for _, variety in clause.varieties} or (
        {clause.variety.lower()} if clause.variety else set()
    )
    keys = clause.keys
    fit = [
        packet
        for packet in names.packets
        if (not keys or packet.crop in keys) and (not spoken or packet.variety.lower() in spoken)
    ]
    if not fit:
        refuse(
            tell("no such packet of seed is in the diary."),
            tell("Write it first, such as \"bought a packet of parsnip\", or put 'note:' before the line."),
        )
    if len(fit) == 1 and keys:
        return fit[0].id
    return asker.ask(
        "packet",
        tell("Which packet?"),
        [
            (
                packet.id,
                " ".join(
                    [names.name(packet.crop), packet.variety, *([str(packet.year)] if packet.year else [])]
                ).strip(),
            )
            for packet in fit
        ],
    )
