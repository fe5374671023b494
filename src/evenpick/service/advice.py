"""What mends wishes that nothing sown from now can meet: one sentence for all of them."""

from evenpick.base.language import later

ADVICE = later("What would mend these: something in store, a crop that stands in, sowing a season sooner, or "
               "wanting it later.")
