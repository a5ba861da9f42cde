"""What a feed should do, and whether the glass says that it did. Told once a feed, as chat.

Only where the engine file says what its pump delivers; a glass called in eighths cannot tell less.
"""

from __future__ import annotations

from assistant.belief import forecast
from assistant.boiler.scales import LITRE_M3, PSI_PA
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import TimedReport
from assistant.messages import Report, Urgency
from assistant.procedure.scale import measure, options
from assistant.wording import forecast_words

AHEAD_MIN = 5.0
TELLS = 0.15  # of the glass: a gain that is clear although the glass is called in eighths
AS_EXPECTED, TOO_LITTLE = 0.5, 0.25  # of the gain expected. Judgement: rounding, use, a worn pump


def tell(context: EventContext) -> None:
    """What five minutes should give when a feed begins; how it went at the first clear glass."""
    try:
        if any(report == _begins(context) for report in context.accepted):
            _expect(context)
        if any(report.what == "water" for report in context.accepted):
            _compare(context)
    except Exception as bug:
        context.failed(bug)


def _expect(context: EventContext) -> None:
    litres = _litres(context, 60.0 * AHEAD_MIN)
    if litres is None or context.state.latest("water") is None:
        return
    try:
        drop_pa = forecast.feed_cost(context.state.belief, litres).drop_pa.mid
    except ValueError:  # more than goes in
        return
    dial = context.state.dial
    per_unit = measure(Report("pressure", 1.0, dial), context.parts.engine) or PSI_PA
    gain = litres / _a_glass(context)
    context.say(
        forecast_words.feed_expected(AHEAD_MIN, gain, drop_pa / per_unit, dial), Urgency.CHAT
    )


def _compare(context: EventContext) -> None:
    began = _began(context)
    if began is None or context.state.feed_judged == began.at:
        return
    litres = _litres(context, context.at - began.at)
    before = [s for s in context.state.seen if s.report.what == "water" and s.at <= began.at]
    levels = [
        measure(s.report, context.parts.engine) for s in (*before[-1:], context.state.seen[-1])
    ]
    if litres is None or len(levels) < 2 or levels[0] is None or levels[1] is None:
        return
    expected = litres / _a_glass(context)
    if expected < TELLS:
        return
    context.update(feed_judged=began.at)
    gained = levels[1] - levels[0]
    context.update(why=forecast_words.feed_reason(gained, expected, (context.at - began.at) / 60.0))
    if gained >= AS_EXPECTED * expected:
        context.say(forecast_words.feed_as_expected(), Urgency.CHAT)
    elif gained < TOO_LITTLE * expected:
        context.say(forecast_words.feed_too_little(), Urgency.CHAT)


def _began(context: EventContext) -> TimedReport | None:
    """When the feed that runs now began."""
    last = [s for s in context.state.seen if s.report.what in ("bypass", "feed")][-1:]
    return last[0] if last and last[0].report == _begins(context) else None


def _begins(context: EventContext) -> Report:
    """The report that the pump of the engine file feeds from now on."""
    geared = "geared pump" in options(context.parts.engine)
    return Report("bypass", "shut") if geared else Report("feed", "on")


def _litres(context: EventContext, seconds: float) -> float | None:
    """What the pump delivers in that time, by the engine file."""
    delivers = context.parts.engine.pump_m3_per_s
    return None if delivers is None else delivers * seconds / LITRE_M3


def _a_glass(context: EventContext) -> float:
    """Litres from the bottom of the glass to its top."""
    points = context.parts.engine.glass.points
    return (points[-1][1] - points[0][1]) / (points[-1][0] - points[0][0])
