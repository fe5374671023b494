"""Values of answers that are shown as they stand, marked for the catalogues: `tell(job.kind)` tells them."""

from __future__ import annotations

from evenpick.base.language import later

JOBS = (
    later("sow"), later("plant"), later("look"), later("prick out"), later("pot on"), later("harden off"),
    later("plant out"), later("thin"), later("weed"), later("earth up"), later("support"), later("net"),
    later("cover"), later("water"), later("pick"), later("clear"),
)
JOB_ANSWERS = later("done"), later("put off"), later("refused")
DECISIONS = later("fixed"), later("refused"), later("freed")
TENDING = (
    later("thinned"), later("pricked out"), later("potted on"), later("hardened off"), later("earthed up"),
    later("covered"), later("uncovered"), later("weeded"), later("fed"), later("supported"), later("mulched"),
)
CAUSES = (
    later("not up"), later("dried"), later("eaten"), later("diseased"), later("frosted"), later("scorched"),
    later("bolted"), later("not picked"), later("other"),
)
FATES = (
    later("good"), later("frosted"), later("bolted"), later("spoilt by heat"), later("too late"),
    later("too cold to start"), later("too hot to start"), later("killed by cold"),
)
STATES = (
    later("sown"), later("up"), later("planted out"), later("picking"), later("standing"), later("lost"),
    later("cleared"), later("planned"), later("made"),
)
CHANGES = later("more"), later("less"), later("new"), later("dropped"), later("moved"), later("missed")
STAGES = (
    later("weather"), later("growing every crop in every year"),
    later("growing every crop on every farm in every year"), later("planning"),
    later("measuring on unseen years"), later("sounding"), later("descent"), later("search"),
    later("branching"), later("polish"), later("together"), later("keeping to the counts"),
)
"""of making a plan"""
WATERING = later("water"), later("perhaps"), later("leave")
FACTS = (
    later("sowed"), later("came up"), later("planted out"), later("tended"), later("watered"),
    later("picked"), later("lost"), later("cleared"), later("weather"), later("seed got"),
    later("seed tested"),
    later("seed left"), later("job"), later("decided"), later("set up"), later("trial laid"),
    later("trial recorded"), later("left out"), later("learning reset"), later("noted"), later("undid"),
    later("corrected"),
)
WEATHER = (
    later("own daily record"), later("own daily record, by its months"), later("packaged daily record"),
    later("typed normals"), later("station normals"), later("the grower's own"),
    later("record of another farm, moved"),
)
REASONS = (
    later("waiting costs nothing"), later("cut short before much is picked"), later("out of season"),
    later("ground too wet"), later("slow growth"), later("few come up"), later("days too short"),
    later("each day's delay costs several"), later("succeeds too seldom"), later("ground under snow"),
    later("too near the first frost"), later("too near winter"),
    later("too cool by the time it is ripe"), later("heat takes part of it"),
    later("succeeds too seldom, or ripens no sooner than a later sowing"),
)
"""what speaks against a sow day"""
HAZARDS = (
    later("killed by frost before picking"), later("ran to seed before picking"),
    later("not ready within the season"), later("killed by cold before picking"),
)
KEEPS = later("not worth sowing"), later("sow thicker"), later("test first")
"""what to do with a packet, beside good"""
MEASURES = later("weight"), later("length"), later("count"), later("days"), later("score"), later("came up")
