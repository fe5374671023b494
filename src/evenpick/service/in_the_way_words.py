"""What a plan says is in the way of an item, where it is not one limit."""

from __future__ import annotations

from evenpick.base.language import later

TROUBLE = later("gaps too small to be worth the trouble of another sowing")
UNSOWN = later("nothing of it is sown, for one sowing brings less in the weeks in which it is good than "
               "a sowing must: wish for more of it while it is ripe, or let less be worth a sowing")
OVER = later("more of it would go over in the years that give well")
EVERYTHING = later("no one thing alone: gaps too small for another sowing, what would go over in the years "
                   "that give well, and ground, together")
LITTLE = later("what can be sown gives too little in those weeks")
