"""Why a move that is asked for is not made now. Reads; changes and says nothing."""

from __future__ import annotations

from assistant.dialogue.agenda import told_in_words, water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Grade, Report
from assistant.procedure import phases
from assistant.procedure.checklist import Phase
from assistant.wording import move_words, walkthrough

STEAMING = frozenset({"raise_steam", "move_off", "feed"})  # moves of a boiler that may be steamed
FEED = "feed"
FED_OUT_OF = frozenset({"no feed, water falling"})  # dangers that a feed not tried yet may end
FRESH_S = 120.0  # an engine moves again only on a water reading no older than this. Judgement
STAND_BY = "stand_by"  # the move that nothing keeps waiting, low water neither
COLD = frozenset({Phase.PREPARATION, Phase.FIRING})  # lists of a boiler without steam
NO_FEED = ("no feed works", "no feed, urgent")  # alarms
GLASS_FULL = "glass full"  # an alarm: moved, she primes
ON_THE_GAUGE = frozenset({"raise_steam", "move_off"})  # moves that want a gauge to be believed


def feed_is_wanted(context: EventContext) -> bool:
    """Whether every danger that stands is one that a feed ends, and none forbids it."""
    dangers = [a.name for a in context.state.watch.alarms if a.rule.grade is Grade.DANGER]
    return FED_OUT_OF.issuperset(dangers) and not water_forbids.no_feed(context)


def refusal(context: EventContext, report: Report) -> str:
    """The words with which this move is refused; empty: nothing of this kind is against it."""
    name, picture = str(report.value), picture_now(context)
    lost = picture.water.not_to_be_steamed_since is not None
    no_feed = picture.water.not_to_be_fed_since is not None
    if lost and name in STEAMING and (no_feed or name != FEED):
        return walkthrough.not_before_looked_at()
    wanted = (lost and name == "put_away") or (name == FEED and feed_is_wanted(context))
    if context.state.watch.danger and name != STAND_BY and not wanted:
        return move_words.danger_first()
    cold = name == FEED and context.state.phase is Phase.FIRING and not picture.steam.ahead
    cold = cold or (name == STAND_BY and context.state.phase in COLD and not picture.steam.ahead)
    if cold or not phases.has_move(context.state.phase, name):
        return move_words.refused(context.state.phase.value, phases.leads_to(name).value)
    cured = not context.state.procedure.parked  # a trouble in hand says what comes first
    if name == "move_off" and cured and context.state.watch.stands(*NO_FEED):
        return move_words.feed_first()
    if name == "move_off" and context.state.watch.stands(GLASS_FULL):
        return move_words.glass_first()
    if name == "raise_steam" and told_in_words.stands_nose_down(context):
        return walkthrough.level_first()
    if picture.gauge.conflict is not None and name in ON_THE_GAUGE:
        return move_words.gauge_first()
    return ""


def water_is_fresh(context: EventContext) -> bool:
    """Whether the level is known and was called lately."""
    called = context.state.latest("water")
    fresh = called is not None and context.at - called.at <= FRESH_S
    return fresh and picture_now(context).water.known


def waits_for_water(context: EventContext, report: Report) -> bool:
    """Whether the move is made once the water is called, and is not made before."""
    known = phases.facts(context.state.progress).water_known
    return known and not context.state.procedure.parked and wants_water(context, report)


def wants_water(context: EventContext, report: Report) -> bool:
    """Whether it is a move that steams her, and the water was not called lately."""
    name = str(report.value)
    steams = report.what == phases.MOVE and name in STEAMING
    return steams and phases.has_move(context.state.phase, name) and not water_is_fresh(context)
