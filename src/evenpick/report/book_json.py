"""Answers about the garden's book as JSON (docs/interface.md)."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from typing import Any, TypeAlias

from evenpick.garden.diary_json import entry_json
from evenpick.garden.effective import Conflict
from evenpick.report.as_json import far_shape
from evenpick.service.books_together import BookRescued
from evenpick.service.check import Checked, FarmChecked, NotBegun
from evenpick.service.exchange import Imported
from evenpick.service.setups import Version
from evenpick.service.workbook import Taken
from evenpick.store.rescue import Rescued

Shape: TypeAlias = dict[str, Any]


def check_shape(answer: Checked | NotBegun) -> Shape:
    if isinstance(answer, NotBegun):
        return {"book": None, "garden": str(answer.garden), "far": [far_shape(one) for one in answer.far],
                "farms": _farms(answer.farms)}
    return {
        "book": str(answer.book), "whole": not answer.faults, "faults": list(answer.faults),
        "entries": answer.entries, "kinds": dict(answer.by_kind), "first": _moment(answer.first),
        "last": _moment(answer.last), "digest": answer.digest, "loose": answer.loose,
        "conflicts": len(answer.conflicts), "notes": list(answer.notes), "kept": _path(answer.kept),
        "copies": [str(copy) for copy in answer.copies], "far": [far_shape(one) for one in answer.far],
        "farms": _farms(answer.farms),
    }


def _farms(several: Iterable[FarmChecked]) -> list[Shape]:
    """Each farm of a cooperative in the shape of a garden, or why it can't be looked through."""
    return [
        {"name": farm.name, "file": farm.file, "problem": farm.problem,
         **({} if farm.answer is None else check_shape(farm.answer))}
        for farm in several
    ]


def import_shape(answer: Imported) -> Shape:
    return {
        "source": str(answer.source), "read": answer.read, "new": answer.new, "kept": _path(answer.kept),
        "garden_written": answer.garden_written, "conflicts": conflict_shapes(answer.conflicts),
        "doubled": [{"here": entry_json(here), "there": entry_json(there)} for here, there in answer.doubled],
    }


def workbook_shape(taken: Taken) -> Shape:
    return {
        "source": str(taken.source), "sheets": list(taken.sheets), "garden_changed": taken.garden_changed,
        "read": taken.read, "new": taken.new,
    }


def conflict_shapes(conflicts: Iterable[Conflict]) -> list[Shape]:
    return [
        {"number": number, "about": each.about or None, "a": entry_json(each.stands),
         "b": entry_json(each.against)}
        for number, each in enumerate(conflicts, 1)
    ]


def versions_shape(answer: tuple[Version, ...], notes: tuple[str, ...]) -> Shape:
    made = [
        {"number": number, "id": each.id, "written": _moment(each.written), "by": each.by,
         "after": each.after, "changes": list(each.changes), "stands": each.stands,
         "in_file": each.in_file, "text": each.text}
        for number, each in enumerate(answer, 1)
    ]
    return {"notes": list(notes), "versions": made}


def rescue_shape(answer: Rescued) -> Shape:
    return {"read": answer.read, "copied": answer.copied, "doubtful": list(answer.doubtful),
            "lost": list(answer.lost), "kept": _path(answer.kept)}


def rescued_together_shape(books: Iterable[BookRescued]) -> Shape:
    return {"books": [{"name": each.name, "file": each.file, "problem": each.problem,
                       **({} if each.answer is None else rescue_shape(each.answer))} for each in books]}


def restore_shape(copy: Path, before: Path | None) -> Shape:
    return {"restored": str(copy), "kept": _path(before)}


def _moment(when: datetime | None) -> str | None:
    return None if when is None else when.isoformat(timespec="seconds")


def _path(path: Path | None) -> str | None:
    return None if path is None else str(path)
