"""JSON shapes of the diary's answers (docs/interface.md)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from evenpick.service.log import LogAnswer, LogEntry


def log_shape(answer: LogAnswer, written: Sequence[str], doubts: Sequence[str] = ()) -> dict[str, Any]:
    """What came of a line; `written` are ids, none where it was only shown; `doubts` what was taken though it
    is hardly so."""
    question = answer.question
    return {
        "outcome": answer.outcome,
        "line": answer.line,
        "facts": [
            {"day": each.day.isoformat(), "words": each.words, "fact": each.shape()} for each in answer.facts
        ],
        "question": None
        if question is None
        else {
            "key": question.key,
            "about": question.about,
            "text": question.text,
            "free": question.free,
            "choices": [{"value": choice.value, "label": choice.label} for choice in question.choices],
        },
        "why": answer.why,
        "mend": answer.mend,
        "doubts": list(doubts),
        "written": list(written),
    }


def entries_shape(entries: Sequence[LogEntry]) -> list[dict[str, Any]]:
    return [
        {"id": each.id, "day": each.day.isoformat(), "words": each.words, "note": each.note}
        for each in entries
    ]
