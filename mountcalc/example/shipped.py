"""The scenarios that ship: in an installed package beside its modules, in a checkout beside it."""

from __future__ import annotations

from pathlib import Path

from mountcalc.errors import InputError
from mountcalc.handbook.rows import load

_PACKAGE = Path(__file__).parents[1]
_FOLDERS = (_PACKAGE / "scenarios", _PACKAGE.parent / "scenarios")
_READINGS = (".csv", ".wav")  # that may go with a scenario


def lessons() -> dict[str, str]:
    """What each scenario teaches, by its name."""
    return load("examples")


def examples_text() -> str:
    """A page of all of them."""
    rows = "\n".join(f"  {name:<16}{lesson}" for name, lesson in lessons().items())
    return (
        f"Mounts to look at and to start from, all of our own invention:\n\n{rows}\n\n"
        "mountcalc example NAME copies one here, to be changed with any editor."
    )


def example_files(name: str) -> dict[str, bytes]:
    """A scenario and the readings that go with it, by their names; the scenario is the first."""
    from mountcalc.scenario.text.wording import near_spelling, shown  # noqa: PLC0415

    known, wanted = lessons(), name.strip().lower().removesuffix(".toml")
    if wanted not in known:
        near = near_spelling(wanted, known)
        hint = f"did you mean {near}?" if near else f"one of {', '.join(known)} is wanted"
        raise InputError(f"name: there is no example {shown(name)}: {hint}")
    folder = next((one for one in _FOLDERS if (one / f"{wanted}.toml").is_file()), None)
    if folder is None:
        raise InputError(f"name: {wanted}.toml did not come along as mountcalc was installed")
    beside = sorted(one for one in folder.glob(f"{wanted}-*") if one.suffix in _READINGS)
    return {path.name: path.read_bytes() for path in (folder / f"{wanted}.toml", *beside)}
