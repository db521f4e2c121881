"""Searches of these tests cost little: few layouts are solved, and a command's search once."""

import pytest
import sizes

from mountcalc.place.search import relaxation
from mountcalc.place.search import search as searching


@pytest.fixture(autouse=True, scope="module")
def few():
    """Only so many layouts are solved as are asked for, and few judged again: each costs."""
    if sizes.FULL:
        yield
        return
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(searching, "_MORE_OF_FRONT", 0)
        patched.setattr(relaxation, "_AGAIN", 512)
        yield


@pytest.fixture(autouse=True, scope="module")
def found_once():
    """What commands search twice in a file of tests is searched once."""
    answers, search_anew = {}, searching.find_layouts

    def find_layouts(search, prefer, count, progress, **options):
        key = repr((search, prefer, count, options))
        if key not in answers:
            answers[key] = search_anew(search, prefer, count, progress, **options)
        return answers[key]

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(searching, "find_layouts", find_layouts)
        yield
