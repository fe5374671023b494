"""A garden file as text, or why it can't be had."""

from __future__ import annotations

from pathlib import Path

from evenpick.base.errors import BadGarden, Problem
from evenpick.base.language import tell


def file_text(path: Path) -> str:
    """The text of a garden file, its line ends as they are, without the mark that some editors put before it;
    BadGarden where it can't be read."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadGarden(
            Problem(tell("the file is not plain text in UTF-8."), tell("Save it again as UTF-8 text."),
                    str(path))
        ) from error
    except OSError as error:
        mend = tell("Check the name and the folder, or begin a new garden.")
        raise BadGarden(Problem(tell("the file can't be opened ({strerror}).",
                                     strerror=error.strerror), mend, str(path))) from error
