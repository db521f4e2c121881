"""Matplotlib under our own settings: no file, folder or variable of a user changes a picture."""

from __future__ import annotations

import contextlib
import importlib
import io
import logging
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matplotlib.figure import Figure
from mountcalc.errors import OutputError

PICTURE_FORMATS = ("png", "pdf", "svg")
# Variables that name settings, and what they name while a library loads.
_VARIABLES = ("MPLBACKEND", "MATPLOTLIBRC", "EZDXF_CONFIG_FILE", "XDG_CONFIG_HOME")
_NOWHERE = {"MATPLOTLIBRC": os.devnull, "XDG_CONFIG_HOME": os.devnull}
# Outlines that a printer's driver can keep as text; the same bytes for the same picture.
_OURS: dict[Any, Any] = {"pdf.fonttype": 42, "svg.hashsalt": "mountcalc"}
_UNDATED = {"png": {"Software": None}, "pdf": {"CreationDate": None}, "svg": {"Date": None}}


@contextlib.contextmanager
def own_settings() -> Iterator[None]:
    """The library's own settings while figures are made and drawn, and ours on top.

    Everything that imports the library is imported inside.
    """
    load_alone("matplotlib")
    import matplotlib as mpl  # noqa: PLC0415

    with mpl.rc_context():
        mpl.rcdefaults()
        mpl.rcParams.update(_OURS)
        yield


def image_of(figure: Figure, form: str = "png") -> bytes:
    """A figure as a file."""
    stream = io.BytesIO()
    figure.savefig(stream, format=form, metadata=_UNDATED[form])
    return stream.getvalue()


def load_alone(library: str) -> None:
    """Import a library where it finds no settings: it would look into the current folder, too."""
    # Without a home to write to, it would tell users of its cache.
    logging.getLogger(library).setLevel(logging.ERROR)
    if library in sys.modules:
        return
    kept = {name: os.environ.pop(name) for name in _VARIABLES if name in os.environ}
    os.environ |= _NOWHERE
    try:
        with contextlib.ExitStack() as stack:
            with contextlib.suppress(FileNotFoundError):  # a folder that is gone holds no file
                stack.enter_context(contextlib.chdir(Path(__file__).parent))
            importlib.import_module(library)
    finally:
        for name in _NOWHERE:
            del os.environ[name]
        os.environ.update(kept)


def picture_format(path: Path) -> str:
    """What a picture's name asks for."""
    ending = path.suffix.lower().removeprefix(".")
    if ending not in PICTURE_FORMATS:
        known = ", ".join(f".{one}" for one in PICTURE_FORMATS)
        raise OutputError(f"{path}: a picture's name ends in one of {known}")
    return ending
