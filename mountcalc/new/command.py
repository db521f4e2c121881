"""The command ``new``."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import STANDARD, AsJson
from mountcalc.console.asking import ask, is_asked
from mountcalc.console.speech import say, say_bytes, say_result, say_written, talk
from mountcalc.console.stopping import Stopped
from mountcalc.errors import InputError, Problem, ScenarioError

if TYPE_CHECKING:
    from mountcalc.new.results import Understood

_SHEET = Path("measuring-sheet.pdf")


def _names(wanted: bool) -> None:  # noqa: FBT001  # typer calls it so
    if wanted:
        from mountcalc.new.answers import names_text  # noqa: PLC0415

        say(names_text())
        raise typer.Exit


@app.command(
    context_settings={"ignore_unknown_options": True},
    epilog="""\b
Examples:
  mountcalc new saw.toml
  mountcalc new --sheet
  mountcalc new --sheet shop.pdf --way both --units metric
  mountcalc new saw.toml --from measuring-sheet.txt
  mountcalc new press.toml --built no --driven-height "36 in" \\
      --motor-pulley-across "3 in" --driven-pulley-across "10 in" \\
      --room-left "36 in" --room-right "10 in" --room-above "6 in"
""",
)
def new(
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="FILE",
            help="Scenario file to write. With answers beside it, such as "
            '--motor-power "1/2 hp", nothing is asked; --names lists them.',
            show_default=False,
        ),
    ] = None,
    *,
    sheet: Annotated[
        bool,
        typer.Option(
            "--sheet",
            help=f"Print a measuring sheet to carry to the machine, FILE or {_SHEET}, and the same "
            "as .txt to be filled in; answers given here stand in it.",
        ),
    ] = False,
    read: Annotated[
        Path | None,
        typer.Option("--from", metavar="SHEET.txt", readable=False, help="Read a filled-in sheet."),
    ] = None,
    names: Annotated[
        bool,
        typer.Option(
            "--names", callback=_names, is_eager=True, help="List the names of all answers."
        ),
    ] = False,
    more: Annotated[bool, typer.Option("--more", help="Tell all that was taken.")] = False,
    json: AsJson = False,
) -> None:
    """From what a tape gives to a scenario file: asked one by one, from a sheet, or as options."""
    from mountcalc.new.answers import from_options  # noqa: PLC0415

    del names
    files, answers = from_options(words or [])
    if len(files) > 1:
        raise InputError(f"FILE: one name is wanted, got {' '.join(files)}")
    if sheet:
        if read is not None:
            raise InputError("--sheet: it goes without --from")
        _print_sheet(Path(files[0]) if files else _SHEET, answers)
        return
    if not files:
        raise InputError("FILE: the name of the file to write is wanted, such as saw.toml")
    file = Path(files[0])
    _refuse(file)
    if read is None and not answers and is_asked():
        _hold_dialogue(file)
    elif read is None and not answers:
        raise InputError(
            "nobody can be asked here: answers are wanted as options (mountcalc new --names lists "
            "them) or on a sheet (mountcalc new --sheet prints one, --from reads it)"
        )
    else:
        _write_answers(file, read, answers, more=more, json=json)


def _refuse(file: Path) -> None:
    from mountcalc.pages.files import refuse_existing, refuse_targets  # noqa: PLC0415

    if file.suffix.lower() != ".toml":
        raise InputError(f"FILE: a scenario's name ends in .toml, got {file}")
    refuse_existing([file])
    refuse_targets([file])


def _hold_dialogue(file: Path) -> None:
    from mountcalc.new.dialogue import Dialogue  # noqa: PLC0415
    from mountcalc.new.page import next_text  # noqa: PLC0415
    from mountcalc.pages.files import refuse_existing, write_files  # noqa: PLC0415

    beside = file.with_name(f"{file.stem}-layout.png")
    refuse_existing([beside])
    try:
        with tempfile.TemporaryDirectory(prefix="mountcalc-") as folder:
            picture = Path(folder) / beside.name

            def draw(mount: Understood) -> str:
                picture.write_bytes(_picture(mount))
                return str(picture)

            mount = Dialogue(ask, say, draw).held()
            write_files({file: mount.text.encode(), beside: picture.read_bytes()}, new=True)
    except Stopped:
        talk("", "mountcalc: stopped: nothing is written")
        raise
    say_written([file, beside])
    say(f"\n{next_text(mount, str(file))}")


def _picture(mount: Understood) -> bytes:
    from mountcalc.pages.own_settings import image_of, own_settings  # noqa: PLC0415

    with own_settings():
        from mountcalc.layout import layout_figure, mount_as_drawn  # noqa: PLC0415

        return image_of(layout_figure(mount_as_drawn(mount.scenario, {}, {})))


def _write_answers(
    file: Path, read: Path | None, answers: dict[str, str], *, more: bool, json: bool
) -> None:
    from mountcalc.new.answers import (  # noqa: PLC0415
        from_sheet,
        in_words,
        marks,
        measured,
        option_of,
    )
    from mountcalc.new.measurements import questions  # noqa: PLC0415
    from mountcalc.new.page import next_text, understood_text  # noqa: PLC0415
    from mountcalc.new.understanding import understood  # noqa: PLC0415
    from mountcalc.pages.files import write_files  # noqa: PLC0415
    from mountcalc.scenario.reader import read_text  # noqa: PLC0415

    lines, source = dict[str, int](), ""
    if read is not None:
        text, source = read_text(read)
        of_sheet, lines = from_sheet(text, source)
        answers = of_sheet | answers

    def refusal(key: str, text: str) -> InputError:
        """What is wrong with an answer, where it was given."""
        text = in_words(text)
        if key not in questions():
            return InputError(f"{source}: {text}" if source else text)
        if key in lines or source:
            name = f"{marks()[key]} {questions()[key].brief}"
            return ScenarioError(source, [Problem(name, text, lines.get(key))])
        return InputError(f"{option_of(key)}: {text}")

    try:
        mount = understood(measured(answers))
    except InputError as error:
        key, _, text = str(error).partition(": ")
        raise refusal(*((key, text) if key in questions() else ("", str(error)))) from None
    for one in mount.contradictions:
        raise refusal(one.suspects[0], one.sentence)
    write_files({file: mount.text.encode()}, [read] if read else [], new=True)
    talk(f"written: {file}")
    rest = "" if more else "--more tells all, so does the file"
    say_result(
        mount,
        lambda: f"{understood_text(mount, rest)}\n\n{next_text(mount, str(file))}",
        json=json,
    )


def _print_sheet(path: Path, answers: dict[str, str]) -> None:
    from mountcalc.new.answers import measured  # noqa: PLC0415
    from mountcalc.new.sheet import sheet_pdf, sheet_text  # noqa: PLC0415
    from mountcalc.pages.files import write_files  # noqa: PLC0415

    measurements = measured(answers)
    if path == STANDARD:
        say_bytes(sheet_text(measurements).encode())
        return
    if path.suffix.lower() != ".pdf":
        raise InputError(f"FILE: a sheet's name ends in .pdf, got {path}")
    text = path.with_suffix(".txt")
    contents = {
        path: sheet_pdf(measurements, text.name),
        text: sheet_text(measurements).encode(),
    }
    write_files(contents, new=True)
    say_written(contents)
