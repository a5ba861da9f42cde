"""What a feed should do, and whether the glass says that it did. Told once a feed, as chat.

Only where the engine file says what its pump delivers; a glass called in eighths cannot tell less.
"""

from __future__ import annotations

from assistant.belief import forecast
from assistant.boiler.scales import LITRE_M3, PSI_PA
from assistant.dialogue.event_context import Turn
from assistant.dialogue.state import Seen
from assistant.messages import Report, Urgency
from assistant.procedure.scale import measure, options
from assistant.wording import forecast_words

AHEAD_MIN = 5.0
TELLS = 0.15  # of the glass: a gain that is clear although the glass is called in eighths
AS_EXPECTED, TOO_LITTLE = 0.5, 0.25  # of the gain expected. Judgement: rounding, use, a worn pump


def tell(turn: Turn) -> None:
    """What five minutes should give when a feed begins; how it went at the first clear glass."""
    try:
        if any(report == _begins(turn) for report in turn.taken):
            _expect(turn)
        if any(report.what == "water" for report in turn.taken):
            _compare(turn)
    except Exception as bug:
        turn.failed(bug)


def _expect(turn: Turn) -> None:
    litres = _litres(turn, 60.0 * AHEAD_MIN)
    if litres is None or turn.mind.latest("water") is None:
        return
    try:
        drop_pa = forecast.feed_cost(turn.mind.belief, litres).drop_pa.mid
    except ValueError:  # more than goes in
        return
    dial = turn.mind.dial
    per_unit = measure(Report("pressure", 1.0, dial), turn.parts.engine) or PSI_PA
    gain = litres / _a_glass(turn)
    turn.say(forecast_words.feed_expected(AHEAD_MIN, gain, drop_pa / per_unit, dial), Urgency.CHAT)


def _compare(turn: Turn) -> None:
    began = _began(turn)
    if began is None or turn.mind.feed_judged == began.at:
        return
    litres = _litres(turn, turn.at - began.at)
    before = [s for s in turn.mind.seen if s.report.what == "water" and s.at <= began.at]
    levels = [measure(s.report, turn.parts.engine) for s in (*before[-1:], turn.mind.seen[-1])]
    if litres is None or len(levels) < 2 or levels[0] is None or levels[1] is None:
        return
    expected = litres / _a_glass(turn)
    if expected < TELLS:
        return
    turn.now(feed_judged=began.at)
    gained = levels[1] - levels[0]
    turn.now(why=forecast_words.feed_reason(gained, expected, (turn.at - began.at) / 60.0))
    if gained >= AS_EXPECTED * expected:
        turn.say(forecast_words.feed_as_expected(), Urgency.CHAT)
    elif gained < TOO_LITTLE * expected:
        turn.say(forecast_words.feed_too_little(), Urgency.CHAT)


def _began(turn: Turn) -> Seen | None:
    """When the feed that runs now began."""
    last = [s for s in turn.mind.seen if s.report.what in ("bypass", "feed")][-1:]
    return last[0] if last and last[0].report == _begins(turn) else None


def _begins(turn: Turn) -> Report:
    """The report that the pump of the engine file feeds from now on."""
    geared = "geared pump" in options(turn.parts.engine)
    return Report("bypass", "shut") if geared else Report("feed", "on")


def _litres(turn: Turn, seconds: float) -> float | None:
    """What the pump delivers in that time, by the engine file."""
    delivers = turn.parts.engine.pump_m3_per_s
    return None if delivers is None else delivers * seconds / LITRE_M3


def _a_glass(turn: Turn) -> float:
    """Litres from the bottom of the glass to its top."""
    points = turn.parts.engine.glass.points
    return (points[-1][1] - points[0][1]) / (points[-1][0] - points[0][0])
