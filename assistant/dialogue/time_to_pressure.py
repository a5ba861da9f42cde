"""The time to a pressure: worked out for the book, and told in the unit of the operator's dial."""

from __future__ import annotations

from assistant.belief import forecast
from assistant.boiler.scales import PSI_PA
from assistant.dialogue.event_context import EventContext
from assistant.messages import ForecastMade, Report
from assistant.procedure.scale import measure
from assistant.wording import forecast_words

JUST_CALLED_S = 30.0
OFF_THE_GAUGE = 0.06  # of working pressure, beyond the belief's own band. Judgement


def tell_time(context: EventContext, target_gauge_pa: float | None = None) -> ForecastMade:
    """Work out the time to a pressure (the working one by default), for the book and to be told."""
    wanted = target_gauge_pa or context.parts.engine.working_pressure_gauge_pa
    minutes = forecast.minutes_to(context.state.belief, wanted)
    band, why = minutes.band, minutes.why
    if not _fits_the_gauge(context):
        band, why = None, "the gauge does not fit what I reckon"
    low, mid, high = (None, None, None) if band is None else (band.low, band.mid, band.high)
    made = ForecastMade(round(wanted / PSI_PA, 3), low, mid, high, why)
    context.fact(made)
    context.update(forecast=made, forecast_at=context.at)
    return made


def _fits_the_gauge(context: EventContext) -> bool:
    """Whether what is believed now is what the gauge was just called at: else nothing is told."""
    seen = context.state.latest("pressure")
    called = measure(seen.report, context.parts.engine) if seen else None
    if seen is None or called is None or context.at - seen.at > JUST_CALLED_S:
        return True
    now, slack = (
        forecast.pressure(context.state.belief),
        OFF_THE_GAUGE * context.parts.engine.working_pressure_gauge_pa,
    )
    return now.low - slack <= called <= now.high + slack


def time_words(context: EventContext, made: ForecastMade) -> str:
    """A forecast in words, in the unit of the operator's dial."""
    if made.low is None or made.mid is None or made.high is None:
        return forecast_words.cannot_say(made.why)
    unit = context.state.dial
    per_unit = measure(Report("pressure", 1.0, unit), context.parts.engine) or PSI_PA
    target = made.target_psi * PSI_PA / per_unit
    target = float(round(target)) if unit in ("psi", "kPa") else round(target, 1)
    working = context.parts.engine.working_pressure_gauge_pa
    named = abs(made.target_psi * PSI_PA - working) < 0.01 * PSI_PA
    return forecast_words.minutes_to_words(made.low, made.mid, made.high, target, unit, named)
