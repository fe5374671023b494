"""A garden file as text, or why it can't be had."""

from __future__ import annotations

from pathlib import Path

from evenpick.base.errors import BadGarden, Problem


def file_text(path: Path) -> str:
    """The text of a garden file, its line ends as they are; BadGarden where it can't be read."""
    try:
        return path.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        raise BadGarden(
            Problem("the file is not plain text in UTF-8.", "Save it again as UTF-8 text.", str(path))
        ) from error
    except OSError as error:
        mend = "Check the name and the folder, or begin a new garden."
        raise BadGarden(Problem(f"the file can't be opened ({error.strerror}).", mend, str(path))) from error
