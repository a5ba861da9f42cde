"""What is wanted after she ran away, once she was told to have stopped, or that it is over: the
water, then how she stands. Speaks nothing.

Knows the calls, the reports since and whether there is heat. Nose down the crown may have been
bare. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.alarms.water_rules import hot
from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Report
from assistant.procedure.emergency import EMERGENCY, OVER
from assistant.procedure.phases import MOVE
from assistant.wording import engine_words, readback

RAN_AWAY = Report(EMERGENCY, "engine is running away")
ENDED = (Report(EMERGENCY, OVER), Report("engine", "stopped"))
CHOCKED, OUT = Report("brake", "on and chocked"), Report("gear", "out")
BRAKE_ASKED, GEAR_ASKED = "brake asked", "gear asked"
ASK_S = 60.0


def after_runaway(context: EventContext) -> Iterator[Need]:
    """The water at once, then brake and chocks, then the gear; nothing once she is moved again."""
    over_at = _over_at(context)
    if over_at is None:
        return
    since = [t.report for t in context.state.reports if t.at > over_at]
    if any(report.what == MOVE for report in since):
        return
    if hot(picture_now(context)) and not any(report.what == "water" for report in since):
        now = over_at >= context.at
        words = readback.ask_for("water")
        yield Need(
            "water", Rank.READING, 0.0, gauge="water", words=words, provoked=now, holds_others=True
        )
    elif CHOCKED not in since:
        yield Need(BRAKE_ASKED, Rank.DUE, ASK_S, words=engine_words.is_she_chocked())
    elif OUT not in since:
        yield Need(GEAR_ASKED, Rank.DUE, ASK_S, words=engine_words.is_she_out_of_gear())


def _over_at(context: EventContext) -> float | None:
    """When it was over that she ran away [s]; None: she did not, or it stands."""
    ran, over_at = False, None
    for timed in context.state.reports:
        if timed.report == RAN_AWAY:
            ran, over_at = True, None
        elif timed.report in ENDED and ran:
            ran, over_at = False, timed.at
    return over_at
