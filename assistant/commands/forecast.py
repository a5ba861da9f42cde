"""`footplate forecast`: a readings file in; pressure, water and time to a pressure out."""

from __future__ import annotations

import argparse
import math
from dataclasses import replace
from pathlib import Path

from assistant.belief import estimate, forecast, water_forecast
from assistant.belief.estimate import Belief
from assistant.belief.summary import forecast_summary
from assistant.boiler.scales import PSI_PA
from assistant.commands import options
from assistant.commands.output import Out
from assistant.config.engine_file import EngineFile
from assistant.config.units import quantity
from assistant.errors import InputWrongError
from assistant.wording import forecast_words

_STEEPEST_RAD = math.radians(15.0)


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `forecast`."""
    options.add_engine(parser)
    parser.add_argument("--readings", required=True, metavar="CSV", type=Path, help="readings file")
    parser.add_argument(
        "--past",
        nargs="+",
        default=[],
        action="extend",
        metavar="FILE",
        type=Path,
        help="earlier readings files or journals of the same engine, to learn from",
    )
    parser.add_argument(
        "--nose-up", metavar='"2 degree"', help="how she stands; nose down is negative"
    )
    parser.add_argument("--target", metavar='"120 psi"', help="default: the wanted pressure")
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Forecast; returns 0."""
    engine = _on_slope(options.engine_of(given, out), given.nose_up)
    belief = _belief_after(engine, given.readings, given.past)
    target_pa = options.pressure_pa(given.target) if given.target else None
    target_pa = engine.engine.working_pressure_gauge_pa if target_pa is None else target_pa
    if target_pa <= 0.0:
        raise InputWrongError(f"--target: {given.target} is no pressure above the air's")
    summary = forecast_summary(belief, target_pa)
    if out.json:
        out.record(summary)
    else:
        _print(out, belief, target_pa, summary)
    return 0


def _on_slope(engine: EngineFile, nose_up: str | None) -> EngineFile:
    """The engine on the slope given, or on that of its file."""
    if nose_up is None:
        return engine
    try:
        angle = quantity(nose_up, "angle").si
    except ValueError as wrong:
        raise InputWrongError(f"--nose-up: {wrong}") from None
    if abs(angle) > _STEEPEST_RAD:
        raise InputWrongError(f"--nose-up: {nose_up} is out of range (-15 degree to 15 degree)")
    return replace(engine, engine=replace(engine.engine, nose_up_rad=angle))


def _belief_after(engine: EngineFile, readings: Path, past: list[Path]) -> Belief:
    """The belief after the last row of a readings file."""
    rows = options.readings_of_file(readings, engine)
    if not rows:
        raise InputWrongError(f"{readings}: no readings in it")
    belief = estimate.begin(engine.engine, 0.0, options.past_runs(past, engine))
    for at_s, report in rows:
        belief = estimate.update(belief, report, at_s)
    return estimate.predict(belief, rows[-1][0])


def _print(out: Out, belief: Belief, target_pa: float, summary: dict[str, object]) -> None:
    now, minutes = forecast.pressure(belief), forecast.minutes_to(belief, target_pa)
    trend = water_forecast.water_trend(belief)
    level = water_forecast.water(belief)
    out.line(
        f"pressure now   {now.mid / PSI_PA:6.1f} psi   "
        f"({now.low / PSI_PA:.1f} to {now.high / PSI_PA:.1f})"
    )
    out.line(f"water now      {level.mid:6.2f} glass ({level.low:.2f} to {level.high:.2f})")
    if minutes.band is None:
        out.line(forecast_words.cannot_say(minutes.why))
    else:
        b = minutes.band
        out.line(
            forecast_words.minutes_to_words(b.low, b.mid, b.high, round(target_pa / PSI_PA), "psi")
        )
    out.line(forecast_words.water_trend_words(trend.word, trend.cause))
    out.line(f"why: {summary['why']}; {trend.why}")
