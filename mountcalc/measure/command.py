"""The command ``measure``."""

from __future__ import annotations

from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import AsJson, More, asked_quantity
from mountcalc.console.speech import say_result


def _length(help_text: str) -> typer.models.OptionInfo:
    option: typer.models.OptionInfo = typer.Option(metavar="LENGTH", help=help_text)
    return option


_PulleyKey = Annotated[
    str,
    typer.Option(
        metavar="KEY",
        help="What that pulley's size is: a key that a scenario has for it, such as "
        "pulley_outside_diameter or pulley_rim_circumference.",
    ),
]


@app.command(
    epilog="""\b
Examples:
  mountcalc measure --section A --outside "62 in"
  mountcalc measure --width "1/2 in" --inside "59 3/4 in"
  mountcalc measure --section A --string "62 in"
  mountcalc measure --section A --center "21 in" --motor-pulley "3 in" --driven-pulley "9 in"
  mountcalc measure --section 4L --string "61 in" --motor-pulley "2 1/2 in" \\
                    --driven-pulley "9 in" --driven-flat
  mountcalc measure --designation 4L460
"""
)
def measure(  # noqa: PLR0913  # one option for each thing that can be measured
    *,
    inside: Annotated[str | None, _length("Old belt, along its inside.")] = None,
    outside: Annotated[str | None, _length("Old belt, along its outside.")] = None,
    pitch: Annotated[str | None, _length("Old belt, along its cords.")] = None,
    string: Annotated[str | None, _length("String drawn tight round both pulleys' rims.")] = None,
    center: Annotated[str | None, _length("Shaft to shaft; wants both pulleys.")] = None,
    designation: Annotated[
        str | None, typer.Option(metavar="NAME", help="What stands on a belt: what is it?")
    ] = None,
    section: Annotated[
        str | None, typer.Option(metavar="NAME", help='Section, such as "A"; else all that fit.')
    ] = None,
    width: Annotated[str | None, _length("Top width, to tell the section by.")] = None,
    motor_pulley: Annotated[str | None, _length("Size of the motor pulley.")] = None,
    driven_pulley: Annotated[str | None, _length("Size of the driven pulley.")] = None,
    room: Annotated[
        str | None, _length("How far the motor can move nearer, and further off.")
    ] = None,
    motor_key: _PulleyKey = "pulley_diameter",
    driven_key: _PulleyKey = "pulley_diameter",
    motor_flat: Annotated[
        bool, typer.Option("--motor-flat", help="The motor pulley has a flat rim.")
    ] = False,
    driven_flat: Annotated[
        bool, typer.Option("--driven-flat", help="The driven pulley has a flat rim.")
    ] = False,
    metric: Annotated[
        bool, typer.Option("--metric", help="Answer in mm, and with belts numbered in mm too.")
    ] = False,
    more: More = False,
    json: AsJson = False,
) -> None:
    """Which belt to buy, by an old belt, a string or the shafts' distance; or what a belt is."""
    from mountcalc.measure.drive import MeasureQuestion  # noqa: PLC0415
    from mountcalc.measure.measure import measure_drive  # noqa: PLC0415
    from mountcalc.measure.page import measure_text  # noqa: PLC0415
    from mountcalc.scenario.text.quantities import DISTANCE  # noqa: PLC0415
    from mountcalc.scenario.text.writing import Display  # noqa: PLC0415

    display = Display.METRIC if metric else Display.INCH

    def asked(name: str, text: str | None) -> float | None:
        return asked_quantity(name, text, DISTANCE)

    measured = measure_drive(
        MeasureQuestion(
            inside=asked("inside", inside),
            outside=asked("outside", outside),
            pitch=asked("pitch", pitch),
            string=asked("string", string),
            center=asked("center", center),
            designation=designation,
            section=section,
            width=asked("width", width),
            motor_pulley=asked("motor-pulley", motor_pulley),
            driven_pulley=asked("driven-pulley", driven_pulley),
            room=asked("room", room),
            motor_key=motor_key,
            driven_key=driven_key,
            motor_flat=motor_flat,
            driven_flat=driven_flat,
            metric=None if metric else False,
            display=display,
        )
    )
    say_result(measured, lambda: measure_text(measured, display, more=more), json=json)
