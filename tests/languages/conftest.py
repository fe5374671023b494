"""The invented answers of the other tests, and the builder of the catalogues, for the import."""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests" / "report"), str(ROOT / "tests" / "web"), str(ROOT / "builders")]
