"""Write result files whole: beside the target first, then renamed onto it."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from mountcalc.errors import OutputError

__all__ = ["write_files"]

_PLAIN_FILE_MODE = 0o666


def write_files(contents: Mapping[Path, bytes]) -> None:
    """Write all files or none; a file that stands there is replaced only by a whole new one.

    Parameters
    ----------
    contents : mapping of Path to bytes
        What to write where. Missing folders are made.

    Raises
    ------
    OutputError
        Where a file cannot be written; nothing is left half-written.
    """
    staged: list[tuple[Path, Path]] = []
    try:
        for path, content in contents.items():
            target = path.resolve()  # a link keeps pointing at what is replaced
            _refuse_other_than_file(path, target)
            target.parent.mkdir(parents=True, exist_ok=True)
            staged.append((_staged(target, content), target))
        while staged:
            beside, target = staged[0]
            beside.replace(target)
            staged.pop(0)
    except OSError as error:
        name = error.filename or next(iter(contents))
        raise OutputError(f"{name}: cannot be written: {error.strerror or error}") from error
    finally:
        for beside, _ in staged:
            with contextlib.suppress(OSError):
                beside.unlink()


def _refuse_other_than_file(path: Path, target: Path) -> None:
    if target.is_dir():
        raise OutputError(f"{path}: a file name is wanted, this is a folder")
    if target.exists() and not target.is_file():
        raise OutputError(f"{path}: an ordinary file is wanted")


def _staged(target: Path, content: bytes) -> Path:
    """The content in a new file beside the target, with the mode that the target would have."""
    descriptor, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    beside = Path(name)
    try:
        with os.fdopen(descriptor, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        beside.chmod(target.stat().st_mode if target.exists() else _PLAIN_FILE_MODE & ~_umask())
    except OSError:
        beside.unlink(missing_ok=True)
        raise
    return beside


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
