"""Heat down near the wanted pressure, where the list in hand does not come to it. Speaks nothing.

Knows the picture and what the lists want; no order of steps: less heat never waits for a list.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.procedure.checklist import Phase
from assistant.wording import engine_words

BLOWER_FROM, DAMPER_FROM = 0.85, 1.0  # of working pressure: as the shipped list has them. Judgement
RESPOND_S = 300.0
LEFT_ON = "blower left on"  # the alarm that says as much
EASED = frozenset({"shut", "crack"})


def near_working(context: EventContext, needs: Iterable[Need]) -> Iterator[Need]:
    """Blower and damper, not told to be eased, while steam is raised and no step asks for them."""
    if context.state.phase is not Phase.RAISING_STEAM:
        return
    steps = [need.step for need in needs if need.step is not None]
    asked = {s.asks for s in steps if s.due is not None and s.due.figure == "working pressure"}
    asked |= {"blower" for alarm in context.state.watch.alarms if alarm.name == LEFT_ON}
    seen, working = picture_now(context), context.config.engine.working_pressure_gauge_pa
    part = (context.alarm_inputs.number("pressure") or 0.0) / working
    blower = part >= BLOWER_FROM and seen.blower.value not in EASED and "blower" not in asked
    damper = part >= DAMPER_FROM and seen.damper.value not in EASED and "damper" not in asked
    if blower and damper:
        yield Need("heat at working", Rank.DUE, RESPOND_S, 1.0, words=engine_words.heat_down())
    elif blower:
        yield Need(
            "blower near working", Rank.DUE, RESPOND_S, 1.0, words=engine_words.blower_down()
        )
    elif damper:
        yield Need("damper at working", Rank.DUE, RESPOND_S, 1.0, words=engine_words.damper_down())
