"""Files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(path: Path, data: bytes) -> None:
    """Write a file beside its name first, so that it is the old one or the new one, on the disk.

    A name that is a link stays one: the file that it leads to is written. OSError names `path`.
    """
    try:
        _write_beside(Path(os.path.realpath(path)), data)
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from error


def _write_beside(path: Path, data: bytes) -> None:
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask()
        Path(name).chmod(mode)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _umask() -> int:
    """The process's mask of permissions; it can only be read by setting it."""
    mask = os.umask(0o022)
    os.umask(mask)
    return mask
