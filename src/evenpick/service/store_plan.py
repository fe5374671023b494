"""A made plan kept beside its garden file, so that `today` need not make it again."""

from __future__ import annotations

import hashlib
import os
import tempfile
from pathlib import Path

from evenpick.base.errors import BadRequest, Problem
from evenpick.service.answers import PlanAnswer


def plan_path(garden: Path) -> Path:
    return garden.with_suffix(".plan.json")


def garden_digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def save_plan(garden: Path, answer: PlanAnswer) -> Path:
    """Write the plan beside the garden file, whole or not at all."""
    from pydantic import TypeAdapter

    path = plan_path(garden)
    data = TypeAdapter(PlanAnswer).dump_json(answer)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name)
    with os.fdopen(handle, "wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
    Path(name).replace(path)
    return path


def saved_plan(garden: Path) -> PlanAnswer | None:
    """The plan made from this garden file as it now stands; None if none was, or the file has changed.

    Raises BadRequest for a plan file that can't be read.
    """
    path = plan_path(garden)
    if not path.exists() or not garden.exists():
        return None
    from pydantic import TypeAdapter, ValidationError

    try:
        answer = TypeAdapter(PlanAnswer).validate_json(path.read_bytes())
    except ValidationError as error:
        raise BadRequest(
            Problem("this is no plan that can be read.", "Delete it and make the plan again.", file=str(path))
        ) from error
    current = garden_digest(garden.read_text(encoding="utf-8"))
    return answer if answer.made_from.garden == current else None
