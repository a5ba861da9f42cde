"""What a feed should do, and whether the glass shows that it did. Said once a feed, as a hint.

Only where the engine file says what its pump delivers. That a feed gives too little is an alarm.
"""

from __future__ import annotations

from assistant.belief import forecast
from assistant.boiler.scales import LITRE_M3
from assistant.dialogue.agenda import water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import told
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Report, Urgency
from assistant.picture.feed_names import feeds_of
from assistant.picture.report_log import TimedReport
from assistant.procedure.scale import glass_litres, measure, options, pressure_unit_pa
from assistant.wording import forecast_words

AHEAD_MIN = 5.0
CLEAR_GAIN = 0.15  # of the glass: a gain that shows although the glass is called in eighths
AS_EXPECTED = 0.5  # of the gain expected. Judgement: rounding, use, a worn pump


def check_feed(context: EventContext) -> None:
    """Say what five minutes should give when a feed begins, and how it went at a clear gain."""
    context.or_none(lambda: _check_feed(context))


def _check_feed(context: EventContext) -> None:
    if any(report == _feed_begins(context) for report in context.accepted):
        if not _pump_stands(context):
            _say_expected(context)
        elif not water_forbids.no_feed(context) and not water_forbids.near_the_top(context):
            others = [name for name in feeds_of(context.config.engine) if name != "pump"]
            context.say(forecast_words.pump_stands(others), Urgency.ANSWER)
    if any(report.what == "water" for report in context.accepted):
        _compare(context)


def _pump_stands(context: EventContext) -> bool:
    """Whether the pump that was put on is turned by the engine, and she was told to stand."""
    geared = _feed_begins(context) == Report("bypass", "shut")
    return geared and picture_now(context).motion.regulator.value == "shut"


def _say_expected(context: EventContext) -> None:
    litres = _litres(context, 60.0 * AHEAD_MIN)
    if litres is None or context.state.latest("water") is None:
        return
    try:
        drop_pa = forecast.feed_cost(context.state.belief, litres).drop_pa.mid
    except ValueError:  # more than the boiler takes
        return
    dial = context.dial
    gain = litres / glass_litres(context.config.engine)
    context.say(
        forecast_words.feed_expected(AHEAD_MIN, gain, drop_pa / pressure_unit_pa(dial), dial),
        Urgency.CHAT,
    )


def _compare(context: EventContext) -> None:
    feed = _running_feed(context)
    if feed is None or context.state.told.feed_checked == feed.at:
        return
    reports, engine = context.state.reports, context.config.engine
    litres = _litres(context, context.at - feed.at)
    before = [s for s in reports if s.report.what == "water" and s.at <= feed.at]
    levels = [measure(s.report, engine) for s in (*before[-1:], reports[-1])]
    if litres is None or len(levels) < 2 or levels[0] is None or levels[1] is None:
        return
    expected = litres / glass_litres(engine)
    if expected < CLEAR_GAIN:
        return
    told.feed_checked(context, feed.at)
    gained = levels[1] - levels[0]
    told.because(
        context, forecast_words.feed_reason(gained, expected, (context.at - feed.at) / 60.0)
    )
    if gained >= AS_EXPECTED * expected and not water_forbids.near_the_top(context):
        context.say(forecast_words.feed_as_expected(), Urgency.CHAT)


def _running_feed(context: EventContext) -> TimedReport | None:
    """The report with which the running feed began; None when none is running."""
    feeds = [s for s in context.state.reports if s.report.what in ("bypass", "feed")]
    return feeds[-1] if feeds and feeds[-1].report == _feed_begins(context) else None


def _feed_begins(context: EventContext) -> Report:
    """The report after which the pump of the engine file feeds."""
    geared = "geared pump" in options(context.config.engine)
    return Report("bypass", "shut") if geared else Report("feed", "on")


def _litres(context: EventContext, seconds: float) -> float | None:
    """What the pump delivers in that time, by the engine file."""
    delivery = context.config.engine.pump_m3_per_s
    return None if delivery is None else delivery * seconds / LITRE_M3
