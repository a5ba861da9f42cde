"""Heat down near the wanted pressure, where the list in hand does not come to it. Speaks nothing.

Knows the picture and what the lists want; no order of steps: less heat never waits for a list.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.alarms.condition import GRAIN
from assistant.alarms.water_rules import NEAR_LOWER, UNREAD
from assistant.dialogue.agenda import heat_stop
from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import STEP
from assistant.procedure import remedies
from assistant.procedure.checklist import Checklist, Phase
from assistant.wording import engine_words

BLOWER_FROM, DAMPER_FROM = 0.85, 1.0  # of working pressure: as the shipped list has them. Judgement
RESPOND_S = 300.0
NEAR, AT = "blower near working", "damper at working"  # names of the needs
PICKED_UP = 0.15  # of working pressure. Judgement
HOLDS_S = 60.0  # so long a step that was put speaks for the need of its part
ALARMED = {
    "blower left on": {"blower"},
    "pressure falling": {"blower"},
    "pressure above working": {"blower", "damper"},
    "rising too fast": {"damper"},
}  # alarms whose words say what is to be done with it
MORE_HEAT = frozenset({"fire_trouble", "blower_weak", "pressure_hangs"})  # names of remedies
GLASS_DOUBTED = frozenset(
    {"glass full", "glass motionless", "glass rises by itself", "water doubted"}
)  # alarms
EASED = frozenset({"shut", "crack"})


def near_working(context: EventContext, needs: Iterable[Need]) -> Iterator[Need]:
    """Blower and damper, not told to be eased, while steam is raised and no step asks for them."""
    raising = context.state.phase is Phase.RAISING_STEAM or _gauge_in_hand(context)
    if not raising or picture_now(context).fire.out:
        return
    if heat_stop.told_of_the_blower(context):
        return  # that says more than eased
    if heat_stop.is_held(context):
        yield from _kept_shut(context)
        return
    steps = [need.step for need in needs if need.step is not None]
    asked = {s.asks for s in steps if s.due is not None and s.due.figure == "working pressure"}
    asked |= told_by_alarm(context) | _put_by_a_step(context)
    stuck, seen = heat_stop.stuck(context), picture_now(context)
    asked |= stuck | ({"damper"} if heat_stop.told(context) else set())
    damper_from = BLOWER_FROM if "blower" in stuck else DAMPER_FROM  # it does for both
    if blower_is_enough(context) and seen.blower.value not in EASED and "blower" not in asked:
        words = engine_words.blower_down()
        yield Need(NEAR, Rank.DUE, RESPOND_S, 1.0, words=words)
    if (
        has_reached(context, damper_from)
        and seen.damper.value not in EASED
        and "damper" not in asked
    ):
        words = engine_words.damper_down()
        yield Need(AT, Rank.DUE, RESPOND_S, 1.0, words=words)


def water_first(context: EventContext) -> bool:
    """Whether no more heat is asked for: in steam, near the lower mark, and no feed proved running.

    A level to which she is filled cold is no such level.
    """
    seen, glass = picture_now(context), context.config.engine.glass
    level = seen.water.level
    if seen.steam.value != "steam" or level is None or not seen.water.readable:
        return False
    if level > glass.lower_mark + NEAR_LOWER or level >= glass.cold_fill - GRAIN:
        return False
    feeds = seen.feeds.by_name.values()
    return not any(f.running_since is not None and f.value == "proved today" for f in feeds)


def glass_first(context: EventContext) -> bool:
    """Whether the glass is to be proved before any heat: what it shows may be no level."""
    water = picture_now(context).water
    read = water.readable and water.value not in UNREAD
    return not read or context.state.watch.stands(*GLASS_DOUBTED)


def blower_is_enough(context: EventContext) -> bool:
    """Whether the gauge stands where the blower is wanted down to a crack; without one, never."""
    if "blower" in context.config.fittings_missing:
        return False
    return has_reached(context, BLOWER_FROM)


def is_moot(context: EventContext, remedy: Checklist) -> bool:
    """Whether a remedy makes more heat, at or over the wanted pressure or with the pressure well up
    since it was called: it has no further check.
    """
    return remedy.name in MORE_HEAT and (has_reached(context, 1.0) or _has_picked_up(context))


def _has_picked_up(context: EventContext) -> bool:
    """Whether the gauge has risen, by more than a call may err, since the list in hand began."""
    began_at = context.state.progress.began_at
    called = context.alarm_inputs.numbers("pressure")
    since = [value for value, at in called if at > began_at]
    before = [value for value, at in called if at <= began_at][-1:]
    levels = [*before, *since]
    risen_pa = PICKED_UP * context.config.engine.working_pressure_gauge_pa
    return bool(since) and levels[-1] - min(levels) >= risen_pa


def _gauge_in_hand(context: EventContext) -> bool:
    """Whether a list is in hand that proves the gauge."""
    return remedies.GAUGE_TROUBLE in context.state.lists_in_hand


def _kept_shut(context: EventContext) -> Iterator[Need]:
    """The heat was stopped once, and blower or damper was not told to be shut: said again near the
    wanted pressure, and wherever the gauge is not to be believed.
    """
    left = heat_stop.left(context)
    if left and (_gauge_in_hand(context) or has_reached(context, BLOWER_FROM)):
        yield Need(NEAR, Rank.DUE, RESPOND_S, 1.0, words=engine_words.kept_shut(left))


def _put_by_a_step(context: EventContext) -> set[str]:
    """The parts at which a step of the list in hand was put a moment ago."""
    put = context.state.asked
    return {
        step.asks
        for step in context.state.progress.steps
        if (asked := put.get(STEP + step.id)) and not context.elapsed(asked.last_at, HOLDS_S)
    }


def told(context: EventContext) -> set[str]:
    """The parts of which an alarm, or a need here, tells what to do: no step says it too."""
    here = {
        part for name, part in ((NEAR, "blower"), (AT, "damper")) if name in context.state.asked
    }
    return here | told_by_alarm(context)


def gauge_pa(context: EventContext) -> float:
    """The last pressure called [Pa gauge]; 0 for none."""
    return context.alarm_inputs.number("pressure") or 0.0


def has_reached(context: EventContext, part: float) -> bool:
    """Whether it is at least so much of the wanted pressure."""
    return gauge_pa(context) >= part * context.config.engine.working_pressure_gauge_pa


def told_by_alarm(context: EventContext) -> set[str]:
    """Where an alarm that stands, and is not back to normal, tells what to do: that is said once,
    and by the alarm.
    """
    inputs, at = context.alarm_inputs, context.at
    speaking = (a.name for a in context.state.watch.spoken() if not a.rule.normal(inputs, at))
    said = (ALARMED.get(n, set()) for n in speaking if not heat_stop.says_more(context, n))
    return set().union(*said)
