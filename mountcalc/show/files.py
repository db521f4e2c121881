"""Write result files whole: beside the target first, then renamed onto it."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from mountcalc.errors import OutputError

__all__ = ["refuse_other_than_folder", "write_files"]

_PLAIN_FILE_MODE = 0o666


def refuse_other_than_folder(folder: Path) -> None:
    """Refuse a place that cannot take files, before there are any.

    Parameters
    ----------
    folder : Path
        Where files are to be written; it need not be there yet.

    Raises
    ------
    OutputError
        Where it, or what it would be made in, is no folder or must not be written to.
    """
    near = wanted = _resolved(folder)
    try:
        while not near.exists():
            near = near.parent
        is_folder, writable = near.is_dir(), os.access(near, os.W_OK | os.X_OK)
    except OSError as error:
        raise OutputError(f"{folder}: cannot be written: {error.strerror or error}") from error
    if not is_folder:
        found = "this" if near == wanted else str(near)
        raise OutputError(f"{folder}: a folder is wanted, {found} is a file")
    if not writable:
        place = "this folder" if near == wanted else str(near)
        raise OutputError(f"{folder}: nothing may be written in {place}")


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
    made: list[Path] = []
    try:
        for path, content in contents.items():
            target = _resolved(path)  # a link keeps pointing at what is replaced
            refuse_other_than_folder(path.parent)
            _refuse_other_than_file(path, target)
            made += _missing(target.parent)
            target.parent.mkdir(parents=True, exist_ok=True)
            staged.append((_staged(target, content), target))
        while staged:
            beside, target = staged[0]
            beside.replace(target)
            staged.pop(0)
        made.clear()
    except OSError as error:
        name = error.filename or next(iter(contents))
        raise OutputError(f"{name}: cannot be written: {error.strerror or error}") from error
    finally:
        for beside, _ in staged:
            with contextlib.suppress(OSError):
                beside.unlink()
        for folder in reversed(made):  # one that holds anything stays
            with contextlib.suppress(OSError):
                folder.rmdir()


def _resolved(path: Path) -> Path:
    """The place itself, with no links on the way to it."""
    try:
        return path.resolve()
    except RuntimeError as error:  # so Python tells of it
        raise OutputError(f"{path}: cannot be written: links that point at each other") from error


def _missing(folder: Path) -> list[Path]:
    """The folders that have to be made for it, the outermost first."""
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    return missing[::-1]


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
