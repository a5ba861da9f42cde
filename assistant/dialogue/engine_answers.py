"""A bare yes or no to a question that the state of the engine has put: which report it is.

Such a question belongs to no list. The answer is the report that the full sentence would have been.
"""

from __future__ import annotations

from assistant.dialogue.agenda import engine_rows, runaway_rows
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import ALARM
from assistant.messages import READINGS, Report

MOVES, LIFTS = Report("valve", "feathering"), Report("valve", "lifting")
SHUT = Report("valve", "shut")
LATELY_S = 300.0  # a question so old is still answered by a few words. Judgement
VALVE_ASKED = (
    engine_rows.AT_ITS_FEATHER, engine_rows.AT_ITS_LIFT, ALARM + engine_rows.SILENT
)  # fmt: skip
# That it does not move, where that was asked.
STILL = (
    "valve has not lifted", "the valve has not lifted", "valve is quiet", "the valve is quiet",
    "it has not lifted", "not lifting", "it is not lifting", "valve is not lifting",
    "it does not lift", "it does not", "it does not move", "valve does not lift",
    "nothing from the valve", "valve still not lifting", "valve is still not lifting",
    "still not lifting", "valve has not moved", "no steam from the valve", "still shut",
    "it is shut", "nothing yet", "not blowing", "it is not blowing", "it is still shut",
)  # fmt: skip
# The name of the need: what yes and what no to it report.
ANSWERS: dict[str, tuple[Report, Report]] = {
    engine_rows.AT_ITS_FEATHER: (MOVES, SHUT),
    engine_rows.AT_ITS_LIFT: (LIFTS, SHUT),
    ALARM + engine_rows.SILENT: (MOVES, SHUT),
    engine_rows.FIRE_ASKED: (Report("fire", "banked"), Report("fire", "drawn")),
    runaway_rows.BRAKE_ASKED: (runaway_rows.CHOCKED, Report("brake", "not chocked")),
    runaway_rows.GEAR_ASKED: (runaway_rows.OUT, Report("gear", "in")),
    engine_rows.STUCK_ASKED: (Report("damper fault", "stuck"), Report("damper", "shut")),
    engine_rows.PEOPLE_ASKED: (Report("people", "clear"), Report("people", "near")),
}


def valve_is_asked(context: EventContext) -> bool:
    """Whether it was asked lately if the valve moves, and not told since that it does."""
    put = [context.state.asked[name].last_at for name in VALVE_ASKED if name in context.state.asked]
    latest = context.state.latest("valve")
    moved = latest is not None and latest.report != SHUT and latest.at > max(put, default=0.0)
    return bool(put) and not moved and not context.elapsed(max(put), LATELY_S)


def report_of(context: EventContext, yes: bool) -> Report | None:
    """What a bare answer reports now; None where something else was put last."""
    asked, reports = context.state.asked, context.state.reports
    own = [name for name in asked if name in ANSWERS]
    name = max(own, key=lambda each: asked[each].last_at, default=None)
    if name is None:
        return None
    last = context.state.put_last
    between = last is not None and last != name and last not in READINGS
    if between and last is not None and asked[last].last_at > asked[name].last_at:
        return None  # a gauge or glass that was asked for takes no yes and no no
    if reports and reports[-1].at > asked[name].last_at:
        return None  # said after something else: it may answer that
    return ANSWERS[name][0 if yes else 1]
