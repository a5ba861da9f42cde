"""`footplate calibrate`: heights of the glass while cold water is measured in, can by can."""

from __future__ import annotations

import argparse
from fractions import Fraction

from assistant.boiler import glass
from assistant.boiler.scales import LITRE_M3
from assistant.commands import options
from assistant.commands.output import Out
from assistant.config import paths, units
from assistant.config.calibration_file import write_calibration
from assistant.errors import InputWrongError


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `calibrate`."""
    options.add_engine(parser)
    parser.add_argument(
        "cans", nargs="+", metavar="LITRES=HEIGHT",
        help='put in so far, and what the glass shows then: "5 litre=1/4" "10 litre=0.6"',
    )  # fmt: skip
    parser.add_argument(
        "--before", metavar="LITRES",
        help="what was in the boiler before the first can; without it the engine file's word is"
        " taken for the first height",
    )  # fmt: skip


def run(given: argparse.Namespace, out: Out) -> int:
    """Write the points beside the engine file, never over it; returns 0."""
    engine = options.engine_of(given, out)
    if engine.path.parent.resolve() == paths.engines_folder().resolve():
        raise InputWrongError(
            f"{engine.path.name} ships with the program: copy it, and calibrate your own file"
        )
    cans = tuple(_can(text) for text in given.cans)
    before = None if given.before is None else _litres(given.before)
    try:
        measured = glass.calibrated_glass(engine.engine.glass, cans, before)
    except ValueError as wrong:
        raise InputWrongError(str(wrong)) from None
    path = write_calibration(engine.path, engine.engine, measured.points)
    for height, litres in measured.points:
        out.line(f"{height:.0%} of the glass: {litres:g} litres cold")
    out.line(f"Kept in {path}; it is used by itself from now on. Delete it to take it back.")
    return 0


def _can(text: str) -> tuple[float, float]:
    """(litres put in so far, height of the glass)."""
    litres, equals, height = text.partition("=")
    if not equals:
        raise InputWrongError(f'{text!r}: a can is LITRES=HEIGHT, for instance "5 litre=1/4"')
    try:
        shown = float(Fraction(height.strip()))
    except (ValueError, ZeroDivisionError):
        raise InputWrongError(
            f"{text!r}: {height.strip()!r} is no height of the glass, like 1/4 or 0.25"
        ) from None
    if not 0.0 <= shown <= 1.0:
        raise InputWrongError(f"{text!r}: the glass goes from 0 to 1")
    return _litres(litres), shown


def _litres(text: str) -> float:
    try:
        value = units.quantity(text.strip(), "volume").si
    except ValueError as wrong:
        raise InputWrongError(f"{text.strip()!r}: {wrong}") from None
    return value / LITRE_M3
