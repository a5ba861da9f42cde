"""The time to a pressure: forecast, recorded, and put into words in the unit of the dial."""

from __future__ import annotations

from assistant.belief import forecast
from assistant.belief.estimate import Belief
from assistant.belief.forecast import Minutes
from assistant.boiler.scales import PSI_PA
from assistant.dialogue import no_minutes
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import told
from assistant.messages import ForecastMade
from assistant.procedure.scale import measure, pressure_unit_pa
from assistant.wording import forecast_words
from assistant.wording.dial_units import in_dial
from assistant.wording.quantities import dial_rounded

JUST_CALLED_S = 30.0
OFF_THE_GAUGE = 0.06  # of working pressure, beyond the belief's own band. Judgement


def forecast_time(context: EventContext, target_gauge_pa: float | None = None) -> ForecastMade:
    """Forecast the time to a pressure, the working pressure by default, and record it."""
    target = target_gauge_pa or context.config.engine.working_pressure_gauge_pa
    minutes = minutes_now(context, target, context.state.belief)
    band, why = minutes.band, minutes.why
    low, mid, high = (None, None, None) if band is None else (band.low, band.mid, band.high)
    made = ForecastMade(round(target / PSI_PA, 3), low, mid, high, why)
    context.record(made)
    told.forecast(context, made, context.at)
    return made


def minutes_now(context: EventContext, target_gauge_pa: float, belief: Belief) -> Minutes:
    """The time to a pressure by what is believed now, or none and why; recorded nowhere."""
    against = no_minutes.why_not(context)
    if against:
        return Minutes(None, against)
    if not _fits_the_gauge(context):
        return Minutes(None, "the gauge does not fit what I reckon")
    return forecast.minutes_to(belief, target_gauge_pa)


def _fits_the_gauge(context: EventContext) -> bool:
    """Whether the belief fits a gauge reading just called; without such a reading it does."""
    latest, engine = context.state.latest("pressure"), context.config.engine
    called = measure(latest.report, engine) if latest else None
    if latest is None or called is None or context.at - latest.at > JUST_CALLED_S:
        return True
    believed = forecast.pressure(context.state.belief)
    slack = OFF_THE_GAUGE * engine.working_pressure_gauge_pa
    return believed.low - slack <= called <= believed.high + slack


def time_words(context: EventContext, made: ForecastMade) -> str:
    """A forecast in words, in the unit of the operator's dial."""
    if made.low is None or made.mid is None or made.high is None:
        against = no_minutes.why_not(context)
        why = in_dial(made.why, context.dial)
        return forecast_words.no_time(against) if against else forecast_words.cannot_say(why)
    unit = context.dial
    target = made.target_psi * PSI_PA / pressure_unit_pa(unit)
    target = dial_rounded(target, unit)
    working = context.config.engine.working_pressure_gauge_pa
    is_working = abs(made.target_psi * PSI_PA - working) < 0.01 * PSI_PA
    return forecast_words.minutes_to_words(made.low, made.mid, made.high, target, unit, is_working)
