"""Being asked to stop: what is under way is put away first, then the process ends by the signal."""

from __future__ import annotations

import atexit
import os
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

_SIGNALS = [
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)
]
_asked_by: list[int] = []


class Stopped(BaseException):
    """Somebody wants the process to end; no handler of errors takes it for one.

    Parameters
    ----------
    number : int
        Of the signal.
    """

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(number)


@contextmanager
def ends_when_asked() -> Iterator[None]:
    """Turn signals that ask for the end into `Stopped`, and that into the end."""
    before = {}
    if threading.current_thread() is threading.main_thread():
        for number in _SIGNALS:
            if signal.getsignal(number) != signal.SIG_IGN:
                before[number] = signal.signal(number, _stop)
    try:
        yield
    except Stopped as stopped:
        before.clear()
        _asked_by.append(stopped.number)
        raise SystemExit(128 + stopped.number) from None
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _stop(number: int, _frame: FrameType | None) -> None:
    for other in _SIGNALS:  # one is enough: what is under way is put away
        signal.signal(other, signal.SIG_IGN)
    raise Stopped(number)


@atexit.register  # before others are, so that it is called after them
def _end_by_the_signal() -> None:
    """End as who sent the signal expects, a shell's loop above all."""
    if _asked_by:
        signal.signal(_asked_by[0], signal.SIG_DFL)
        os.kill(os.getpid(), _asked_by[0])
