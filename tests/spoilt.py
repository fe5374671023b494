"""Books as a failing disk leaves them."""

from __future__ import annotations

import random
from pathlib import Path

PAGE = 4096


def spoil(book: Path, *pages: int) -> None:
    """Garble whole pages, numbered from 1 as SQLite does."""
    with book.open("r+b") as file:
        for page in pages:
            file.seek((page - 1) * PAGE)
            file.write(random.Random(page).randbytes(PAGE))
