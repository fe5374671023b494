"""What the diary taught: lessons."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from evenpick.cli.options import A_GARDEN, ON, WORDS, asked, on_day, words
from evenpick.cli.speaking import Speaking


@click.command(cls=Speaking, short_help="What the diary taught, with its evidence.")
@A_GARDEN
@ON
@click.option("--records", is_flag=True, help="The sowings that taught it, too.")
@click.option("--leave-out", metavar="SOWING", help="Learn nothing from a sowing, by its mark.")
@click.option("--reset", metavar="CROP", help="Learn anew from that day on: of one crop, or 'all'.")
@WORDS
def lessons(garden: Path, on: str | None, records: bool, leave_out: str | None, reset: str | None,
            as_json: bool, **rest: Any) -> int:
    """What the diary taught: timing, yield, gluts and gaps, losses; one line each, with the evidence."""
    from evenpick.cli.by_farm import Answered, answer
    from evenpick.report.kept_json import lessons_shape
    from evenpick.report.lessons import lessons_page
    from evenpick.service import lessons as service

    day = on_day(on)
    say = words(asked({**rest, "garden": garden}))
    if leave_out:
        service.leave_out(garden, leave_out, day)
    if reset:
        service.reset(garden, None if reset == "all" else reset, day)

    def taught(file: Path) -> Answered:
        found = service.lessons(file, day)
        return lessons_page(found, say, records), lessons_shape(found, say)

    return answer(garden, as_json, taught)
