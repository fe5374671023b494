"""The plan in a book, with a digest by which damage to it is known (docs/formats/book.md)."""

from __future__ import annotations

import hashlib
import sqlite3

from evenpick.garden.garden_json import KeptPlan
from evenpick.store.opening import UNREADABLE

KEEP = ("INSERT INTO plan VALUES (1, ?, ?, ?) ON CONFLICT DO UPDATE SET made = excluded.made,"
        " garden = excluded.garden, body = excluded.body WHERE excluded.made > plan.made")
KEEP_OWN = "INSERT OR REPLACE INTO own VALUES (?, ?)"
OWN = "plan"
"""under which the book keeps the digest, among what this copy alone knows"""


class Damaged(Exception):
    """The plan is not as it was written."""


def plan_in(db: sqlite3.Connection) -> KeptPlan | None:
    """The plan that a book holds; None if there is none. Damaged where it is not as it was written.

    Of a plan kept before there was a digest, or by an older evenpick, only bytes that are no text are known.
    """
    row = db.execute("SELECT made, garden, body FROM plan").fetchone()
    if row is None:
        return None
    plan = KeptPlan(*row)
    said = db.execute("SELECT value FROM own WHERE name = ?", (OWN,)).fetchone()
    known = said is not None and said[0].split()[:1] == [plan.made]
    if UNREADABLE in "".join(row) or (known and said[0] != _digest(plan)):
        raise Damaged
    return plan


def put_plan(db: sqlite3.Connection, plan: KeptPlan) -> None:
    """Keep a plan in place of one made before, or of one that is damaged; one made later stays."""
    try:
        plan_in(db)
    except Damaged:
        db.execute("DELETE FROM plan")
    if db.execute(KEEP, (plan.made, plan.garden, plan.body)).rowcount:
        db.execute(KEEP_OWN, (OWN, _digest(plan)))


def _digest(plan: KeptPlan) -> str:
    """Its moment, and the SHA-256 of all of it: a digest says nothing of a plan of another moment."""
    whole = "\n".join((plan.made, plan.garden, plan.body))
    return f"{plan.made} {hashlib.sha256(whole.encode()).hexdigest()}"
