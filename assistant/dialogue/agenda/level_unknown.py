"""What a broken glass over heat wants said now: heat down, then the water another way. Speaks
nothing.

Knows the last reports of damper, blower, fire and try cocks, and the gauge just called.
"""

from __future__ import annotations

from assistant.alarms.condition import PRESSURE_DEADBAND
from assistant.alarms.lifecycle import Alarm
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Report
from assistant.picture.glass import BROKEN
from assistant.picture.lost_water import FAILURES

NAME = "level unknown"
HEAT_STOPPED = ", heat stopped"  # added to its name once that is so: then the next acts are due
NEW_GLASS = ", new glass"  # and once another is in
NO_HEAT = "no heat, keep away"
DRY = Report("try cocks", "show no water")
STEAM_ESCAPES = "steam escaping"
TRY_COCKS = "try cocks"  # the fitting


def words(context: EventContext, alarm: Alarm) -> str:
    """What is said of the level that nobody knows, and of the glass once its cocks are shut."""
    seen, rule = picture_now(context), alarm.rule
    if alarm.name == BROKEN:
        return rule.with_act("call the water another way") if seen.glass.cocks_shut else rule.text
    if seen.fire.out:
        return rule.with_act(NO_HEAT)
    act = _next_act(context)
    return rule.with_act(act, "heat is still in" if rises(context) else "")


def _next_act(context: EventContext) -> str:
    seen = picture_now(context)
    if context.state.watch.stands(*FAILURES, STEAM_ESCAPES):
        return NO_HEAT  # nobody is sent to her cocks or dampers
    if context.state.latest_is(DRY.what, str(DRY.value)):
        return "let the fire die. Everybody away"
    if not seen.heat_stopped:
        wanted = "blower shut" if seen.damper.value == "shut" else "damper shut"
        return wanted if rises(context) else f"stop the heat. {wanted.capitalize()}"
    if rises(context):
        return "let the fire die"
    if seen.glass.put_in_at is not None:
        return "blow the new glass through"
    if TRY_COCKS in context.config.engine.options:
        return "water at the try cocks? If not, let the fire die"
    return "read it another way, or let the fire die"


def rises(context: EventContext) -> bool:
    """Whether the gauge was just called, and higher than before by more than hunting."""
    gauge = picture_now(context).gauge
    if not any(report.what == "pressure" for report in context.accepted):
        return False
    least = PRESSURE_DEADBAND * context.config.engine.working_pressure_gauge_pa
    now, before = gauge.pressure_pa, gauge.before_pa
    return now is not None and before is not None and now - before >= least
