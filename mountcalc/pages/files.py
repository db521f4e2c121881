"""Write result files whole: beside the target first, then renamed onto it."""

from __future__ import annotations

import contextlib
import itertools
import os
import secrets
import signal
import threading
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from typing import Any

from mountcalc.errors import OutputError

_FILES = {".png", ".pdf", ".svg", ".dxf"}  # that are put into folders, under names of their own
_SOURCES = ("the scenario", "the log")  # of a command, in the order that they are given
_PREFIX = 40  # letters of a name: with what is added it must not be too long for a file's


def refuse_other_than_folder(folder: Path) -> None:
    """Refuse a place that cannot take files, before there are any."""
    near = wanted = _resolved(folder)
    try:
        while not near.exists():
            near = near.parent
        is_folder, writable = near.is_dir(), os.access(near, os.W_OK | os.X_OK)
    except OSError as error:
        raise OutputError(f"{folder}: cannot be written: {error.strerror or error}") from error
    if near != wanted and wanted.suffix.lower() in _FILES:
        raise OutputError(f"{folder}: a folder is wanted, this is a file's name")
    if not is_folder:
        found = "this" if near == wanted else str(near)
        raise OutputError(f"{folder}: a folder is wanted, {found} is a file")
    if not writable:
        place = "this folder" if near == wanted else str(near)
        raise OutputError(f"{folder}: nothing may be written in {place}")


def refuse_targets(paths: Collection[Path], sources: Collection[Path | int] = ()) -> None:
    """Refuse files that cannot be written, or that would take another's place."""
    targets = [_resolved(path) for path in paths]
    for path, target in zip(paths, targets, strict=True):
        refuse_other_than_folder(path.parent)
        if target.is_dir():
            raise OutputError(f"{path}: a file name is wanted, this is a folder")
        if target.exists() and not target.is_file():
            raise OutputError(f"{path}: an ordinary file is wanted")
        for source, what in zip(sources, _SOURCES, strict=False):
            if _is_same(target, source):
                raise OutputError(f"{path}: this is {what} itself: give the result another name")
    for first, second in itertools.combinations(targets, 2):
        if first == second or _is_same(first, second):
            raise OutputError(f"two results would be written to {first}: give them other names")


def refuse_existing(paths: Collection[Path]) -> None:
    """Refuse to write over what stands there already."""
    for path in paths:
        if os.path.lexists(path):
            raise OutputError(f"{path}: is there already, and is not written over: take a new name")


def write_files(
    contents: Mapping[Path, bytes], sources: Collection[Path | int] = (), *, new: bool = False
) -> None:
    """Write all files or none; a file that stands there is replaced only by a whole new one.

    With ``new`` none is replaced, not even one that appears meanwhile. A signal that asks for the
    end waits until files are put away or all in their place.
    """
    if new:
        refuse_existing(contents)
    refuse_targets(contents, sources)
    staged: dict[Path, tuple[Path, Path]] = {}
    made: list[Path] = []
    done: list[Path] = []
    put = _put_new if new else Path.replace
    with _signals_held() as held:
        try:
            for path, content in contents.items():
                target = _resolved(path)  # a link keeps pointing at what is replaced
                made += [one for one in target.parents if not one.exists()]
                target.parent.mkdir(parents=True, exist_ok=True)
                staged[path] = _staged(target, content), target
                if held:
                    return
            for path, (beside, target) in list(staged.items()):
                put(beside, target)
                done.append(path)
                del staged[path]
            made.clear()
        except OSError as error:
            if new:
                _take_back(done)
                refuse_existing(staged)
            at = next(iter(staged), None) if done else error.filename
            before = ", ".join(map(str, staged))
            raise OutputError(
                f"{at or next(iter(contents))}: cannot be written: {error.strerror or error}"
                + (f" (new: {', '.join(map(str, done))}; as before: {before})" if done else "")
            ) from error
        finally:
            for beside, _ in staged.values():
                with contextlib.suppress(OSError):
                    beside.unlink()
            # The innermost first; one that holds anything stays.
            for folder in sorted(made, key=lambda one: len(one.parts), reverse=True):
                with contextlib.suppress(OSError):
                    folder.rmdir()


@contextlib.contextmanager
def _signals_held() -> Iterator[list[int]]:
    """Signals that ask for the end wait meanwhile; those that came are in the list."""
    held: list[int] = []
    before: dict[int, Any] = {}
    if threading.current_thread() is threading.main_thread():
        for name in ("SIGINT", "SIGTERM", "SIGHUP"):
            number = getattr(signal, name, None)
            # One that Python did not set, or that is ignored, stays as it is.
            if number is not None and signal.getsignal(number) not in {None, signal.SIG_IGN}:
                before[number] = signal.signal(number, lambda came, _: held.append(came))
    try:
        yield held
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
        if held:
            signal.raise_signal(held[0])


def _is_same(target: Path, other: Path | int) -> bool:
    """Whether two names are of one file: links, spellings and cases lead to it."""
    with contextlib.suppress(OSError, ValueError):
        return os.path.samestat(target.stat(), os.stat(other))  # noqa: PTH116  # a number, too
    return False


def _resolved(path: Path) -> Path:
    """The place itself, with no links on the way to it."""
    try:
        return path.resolve()
    except RuntimeError as error:  # so Python tells of it
        raise OutputError(f"{path}: cannot be written: links that point at each other") from error


def _take_back(done: list[Path]) -> None:
    while done:
        done.pop().unlink()


def _put_new(beside: Path, target: Path) -> None:
    """Give a whole file its name unless another has it."""
    try:
        target.hardlink_to(beside)
    except FileExistsError:
        raise
    except OSError:  # no such links on this disk: nothing else may begin a file of that name, then
        with target.open("xb") as stream:
            try:
                stream.write(beside.read_bytes())
            except BaseException:
                target.unlink()
                raise
    beside.unlink()


def _staged(target: Path, content: bytes) -> Path:
    """The content in a new file beside the target, with the mode that the target would have."""
    beside = target.with_name(f".{target.name[:_PREFIX]}.{secrets.token_hex(4)}")
    stream = beside.open("xb")
    try:
        with stream:
            if target.exists():
                beside.chmod(target.stat().st_mode)
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    return beside
