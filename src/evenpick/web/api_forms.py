"""What is sent to the interface and what it says of writing, faults and work under way."""

from __future__ import annotations

from datetime import date
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

MOST = 500
"""entries in one request"""


class Fault(BaseModel):
    what: str
    mend: str
    line: int | None = None
    field: str | None = None


class Faults(BaseModel):
    """What was wrong, each with how to mend it."""

    problems: list[Fault]


class EntryIn(BaseModel):
    """An entry of the diary as it was made on a device: its fact's own fields stand beside these."""

    model_config = ConfigDict(extra="allow")
    id: str = Field(pattern=r"^[0-9a-f]{32}$", description="12 digits of the millisecond, 20 by chance")
    day: date
    kind: str = Field(max_length=40)
    note: str = Field("", max_length=4000)
    by: str = Field("", max_length=200)


class Entries(BaseModel):
    entries: list[EntryIn] = Field(min_length=1, max_length=MOST)


class Kept(BaseModel):
    new: int
    known: int
    """sent before, so not written again"""


class JobIn(BaseModel):
    id: str = Field(pattern=r"^[0-9a-f]{32}$")
    job: str = Field(min_length=1, max_length=300)
    answer: Literal["done", "put off", "refused", "undo"]
    day: date | None = None
    until: date | None = None
    kg: float | None = Field(None, ge=0, le=100_000)


class WorkOut(BaseModel):
    state: Literal["nothing", "running", "stopping", "done", "stopped", "failed"]
    share: float
    stage: str
    said: str
    gap: float | None
    """share of what is at stake within which the best so far is proven"""
    kept: bool
