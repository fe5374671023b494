"""After a loss: losses."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from evenpick.cli.options import A_GARDEN, ON, WORDS, asked, on_day, words
from evenpick.cli.speaking import Speaking


@click.command(cls=Speaking, short_help="What was lost, and what can still fill its weeks.")
@click.argument("loss", required=False, metavar="[LOSS]")
@A_GARDEN
@ON
@WORDS
def losses(loss: str | None, garden: Path, on: str | None, as_json: bool, **rest: Any) -> int:
    """What was lost lately; of one LOSS, by its mark: the weeks it leaves bare, what can still fill them."""
    from evenpick.cli.by_farm import Answered, answer
    from evenpick.report.kept_json import after_loss_shape, losses_shape
    from evenpick.report.losses import after_loss_page, losses_page
    from evenpick.service.losses import losses as answer_losses
    from evenpick.service.losses import lost_sowing

    day, say = on_day(on), words(asked({**rest, "garden": garden}))
    if loss is None:
        def lost_at(file: Path) -> Answered:
            rows = answer_losses(file, day)
            return losses_page(rows, say), losses_shape(rows, say)

        return answer(garden, as_json, lost_at)
    from evenpick.service.after_loss import after_loss

    found = after_loss(garden, lost_sowing(garden, loss), day)
    return answer(garden, as_json, lambda _: (after_loss_page(found, say), after_loss_shape(found, say)))
