"""What the pages' scripts say, in the reader's language; they fill the places themselves."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evenpick.base.language import tell, tell_n
from evenpick.base.terms import JOB_ANSWERS

MANY = 5
"""entries that stand for several: the script knows no further plurals"""


def script_words() -> Mapping[str, Any]:
    left = {name: f"{{{name}}}" for name in ("n", "entries", "entry", "why", "status", "date")}
    one, many = (tell_n("{n} entry waits on this device and goes when the garden can be reached: {entries}.",
                        "{n} entries wait on this device and go when the garden can be reached: {entries}.",
                        number, **left) for number in (1, MANY))
    asks_one, asks_many = (tell_n("{n} line waits on this device for your answer.",
                                  "{n} lines wait on this device for your answer.", number, **left)
                           for number in (1, MANY))
    return {
        "one": one, "many": many, "asks_one": asks_one, "asks_many": asks_many,
        "asks": tell("{entry}: {why}", **left), "answer": tell("Answer it"), "change": tell("Change it"),
        "changing": tell("it is being changed."), "show": tell("Show what waits"),
        "refused": tell("Not taken: {entry}. {why} It is kept here.", **left),
        "waits": tell("{entry}: waits on this device.", **left),
        "no": tell("The garden said no ({status}).", **left),
        "aged": tell("This page is of {date}. What you press or write now counts for today.", **left),
        "no_room": tell("Not sent, and this device has no room to keep it. It stands below as you wrote it: "
                        "leave this page open, and send it again in reach."),
        "again": tell("Send it again"),
        "sending": tell("sending …"),
        "enter": tell("Sign in, and what waits goes."),
        "forget": tell("Forget it"),
        "answers": {answer: tell(answer) for answer in JOB_ANSWERS},
    }
