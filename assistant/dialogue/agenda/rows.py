"""The table of needs: what is wanted now, each row from what is known. Speaks nothing.

Ranks and what they forbid are judgement after the usual practice for alarms (EEMUA 191, ISA-18.2,
both from memory): the gravest first, nothing that may wait beside a danger.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from assistant.alarms.lifecycle import Alarm
from assistant.alarms.water_rules import hot
from assistant.dialogue import (
    asking,
    banking,
    following,
    plate_check,
    prompts,
    refused_moves,
    unanswered,
)
from assistant.dialogue.agenda import (
    acts_reported,
    before_match,
    beside,
    danger_words,
    engine_rows,
    heat_rows,
    heat_stop,
    level_unknown,
    remark_rows,
    runaway_rows,
    stuck_clack,
    told_in_words,
    water_forbids,
)
from assistant.dialogue.agenda.acts_reported import HEAT, HEATED, NOBODY, OPENED, OVERDUE
from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.alarm_notices import LIST_RESTS, NO_FIRING
from assistant.dialogue.conversation import Loud, loud_now
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import ALARM, NOT_TODAY, STEP
from assistant.messages import READINGS, Grade, Report
from assistant.picture.glass import BROKEN
from assistant.procedure import position, remedies
from assistant.procedure.checklist import Phase, Step
from assistant.procedure.position import Progress
from assistant.wording import engine_words

Row = Callable[[EventContext], Iterator[Need]]

RANK_OF = {Grade.DANGER: Rank.DANGER, Grade.WARNING: Rank.STOP, Grade.CAUTION: Rank.DUE}
QUIET_AT_REST = frozenset(
    {"water low", "leak", "not to be steamed", "no feed", "water unread", "nobody answers"}
)
# groups of alarms that press no more with the fire out and the gauge at rest
OVER_PRESSURE, TOO_FAST = "over-pressure", "rising too fast"
FED_UNSEEN = "feed after lost water"
HEAT_WORDS = re.compile(r"\b(open the damper|damper open|blower on)\b", re.IGNORECASE)
NOBODY_MOVES = frozenset(
    {"motion", "people near", "child inside the barrier", "engine creeps", "water high"}
)  # groups: the regulator stays shut
ONCE_MORE = ", once more"  # added to the name of a danger after its first good reading
GLASS_DOUBTED = ", glass doubted"  # added to low water once a level is called that nothing explains
ONCE = frozenset({"plan", "steps", "noise"})  # groups that are said once only
FIRST_ACTS_S = 60.0  # so long the first acts of a danger keep everything else quiet
GUARDED = (Phase.PREPARATION, Phase.FIRING, Phase.RAISING_STEAM)
# phases whose killers are put although a remedy waits; in the others they are for moving off
NEXT_S, READING_NEXT_S = 60.0, 20.0  # and this long before the next of them
UNANSWERED = 2  # so often a killer is put before the others are put as well. Judgement
TRIED = frozenset({"injector", "hand pump"})  # what a step asks that tries a feed
FIRE_SIDE = HEAT | {"fire"}
MOVES = frozenset({"regulator", "reverser"})  # what is put to have her turn
PROVE_FIRST = frozenset({"glass not proved", "glass rises by itself"})  # alarms
NO_HEAT_YET = "no heat, blow through"  # what they want once heat is put on
NEAR_WORKING = 0.8  # of working pressure: what is due from here on takes heat away
FALLEN = 0.9  # of the pressure at which a step was due. Judgement
HEAT_S, KILLER_S, STEP_S = 180.0, 300.0, 600.0  # times to respond. Judgement


def needs_of(context: EventContext) -> list[Need]:
    """Everything that is wanted now and not forbidden, the first to be put first."""
    listed = _of(context, _steps)
    needs = [need for row in ROWS for need in _of(context, row)]
    needs += _of(context, lambda c: _readings(c, listed))
    needs += _of(context, lambda c: _not_late(c, listed))
    over = {str(timed.report.value) for timed in context.state.reports.of(NOT_TODAY)}
    needs = [need for need in needs if need.rank < Rank.DUE or need.name not in over]
    needs = _let_through(context, needs)
    if heat := _of(context, lambda c: heat_rows.near_working(c, needs)):
        needs = _let_through(context, [*needs, *heat])
    return sorted(needs, key=lambda need: need.sort_key)


def _of(context: EventContext, row: Row) -> list[Need]:
    """What a row wants; nothing, and our fault is told, where it fails: the others go on."""
    return context.or_none(lambda: list(row(context))) or []


def _let_through(context: EventContext, needs: list[Need]) -> list[Need]:
    """What may be said now; where that cannot be told, only what is grave."""
    let = context.or_none(lambda: _allowed(context, needs))
    return let if let is not None else [need for need in needs if need.rank <= Rank.READING]


def _allowed(context: EventContext, needs: list[Need]) -> list[Need]:
    """Beside a danger no list, no offer; while its first acts are due, nothing but readings.

    An open doubt keeps the list waiting: one question at a time.
    """
    last = Rank.OFFER
    needs = water_forbids.allowed(context, needs)
    if _feeds_out_of_danger(context):
        needs = list(_with_the_feed(context, needs))
    elif _danger_presses(context):
        last = Rank.DOUBT
        no_cure = _cure_gives_heat(context)
        needs = [
            need
            for need in needs
            if need.step is None
            or not (need.rank is Rank.DUE or (no_cure and need.rank is Rank.REMEDY))
        ]
    elif _water_taken_back(context) or told_in_words.leaves_open(context):
        needs = _but_steps(needs, lambda step: True)
    elif _list_rests(context):
        cures = any(need.rank is Rank.REMEDY for need in needs)
        needs = [need for need in needs if _goes_on(context, need, cures)]
    parts = heat_stop.stuck(context) | (HEAT if heat_stop.told(context) else set())
    needs = _but_steps(needs, lambda step: step.asks in parts)
    if _no_more_heat(context):
        needs = _but_steps(needs, _gives_heat)
    if remark_rows.out_of_coal(context):
        needs = _but_steps(needs, _puts_coal_on)
    if picture_now(context).motion.somebody_near:
        needs = _but_steps(needs, _moves_her)
    if context.state.doubt is not None or plate_check.has_floor(context):
        last = min(last, Rank.DUE)
    if banking.in_hand(context):
        needs = _but_steps(needs, lambda step: True)
    if told_in_words.asks_of_a_call(context):
        last = Rank.READING
    if any(need.holds_others for need in needs) or _taken_back(context):
        last = Rank.READING
    return [need for need in needs if need.rank <= last]


def _but_steps(needs: list[Need], left_out: Callable[[Step], bool]) -> list[Need]:
    """The needs without those steps."""
    return [need for need in needs if need.step is None or not left_out(need.step)]


def _taken_back(context: EventContext) -> bool:
    """Whether a report was taken back and none put in its place: that is asked for first."""
    return bool(context.retracted) and not context.accepted


def _no_more_heat(context: EventContext) -> bool:
    """Whether no list may ask for fire or draught: near the wanted pressure, the water open,
    or the heat told to be stopped.
    """
    warned = any(
        alarm.name in LIST_RESTS
        or (alarm.rule.group in QUIET_AT_REST and alarm.rule.grade > Grade.CAUTION)
        for alarm in context.state.watch.alarms
    )
    return (
        warned
        or heat_stop.told(context)
        or remark_rows.keep_the_heat_off(context)
        or context.state.watch.stands(TOO_FAST)
        or _unread_at_the_valve(context)
        or heat_rows.water_first(context)
        or _glass_first(context)
        or before_match.stands(context)
        or heat_rows.has_reached(context, NEAR_WORKING)
    )


def _glass_first(context: EventContext) -> bool:
    """Whether over heat nobody knows what the glass shows."""
    return hot(picture_now(context)) and heat_rows.glass_first(context)


def _cure_gives_heat(context: EventContext) -> bool:
    """Whether the remedy in hand asks for draught anywhere: it is none beside a danger."""
    return any(HEAT_WORDS.search(step.say) for step in context.state.progress.steps)


def _gives_heat(step: Step) -> bool:
    """Whether it is an act at fire, blower or damper that makes the fire hotter."""
    if step.kind != "act" or step.asks not in FIRE_SIDE or _near_working(step):
        return False
    return bool(step.replies) and (step.asks, step.replies[0].state) in HEATED


def _puts_coal_on(step: Step) -> bool:
    """Whether its first answer is that coal was put on."""
    return bool(step.replies) and (step.asks, step.replies[0].state) == ("fire", "coal")


def _moves_her(step: Step) -> bool:
    """Whether it is an act that has her turn."""
    return step.kind == "act" and step.asks in MOVES


def _danger_presses(context: EventContext) -> bool:
    """Whether a danger stands that is not over by all but its name: fire out, gauge at rest."""
    dangers = [a for a in context.state.watch.alarms if a.rule.grade is Grade.DANGER]
    over = _at_rest(context) and all(a.rule.group in QUIET_AT_REST for a in dangers)
    return bool(dangers) and not over


def _feeds_out_of_danger(context: EventContext) -> bool:
    """Whether the feed is in hand, asked for, and every danger that presses is one that it ends."""
    pumping = context.state.phase is Phase.PUMPING and not context.state.procedure.parked
    return pumping and _danger_presses(context) and refused_moves.feed_is_wanted(context)


def _with_the_feed(context: EventContext, needs: list[Need]) -> Iterator[Need]:
    """The steps of that list are due beside the danger; no other step, and none that gives heat."""
    for need in needs:
        if need.step is None:
            yield need
        elif need.step in context.state.progress.steps and not _gives_heat(need.step):
            yield replace(need, rank=min(need.rank, Rank.DUE))


def _water_taken_back(context: EventContext) -> bool:
    """Whether over heat the last level was taken back: it is called before the list goes on."""
    return asking.called_wrong(context, "water") and hot(picture_now(context))


def _list_rests(context: EventContext) -> bool:
    return context.state.watch.stands(*LIST_RESTS)


def _goes_on(context: EventContext, need: Need, cures: bool) -> bool:
    """Beside low water to come: no step of the list, but one that tries another feed.

    cures: whether a remedy is in hand, which goes before that.
    """
    if need.step is None:
        return need.rank <= Rank.DOUBT
    no_feed = all(
        a.rule.group == water_forbids.NO_FEED
        for a in context.state.watch.alarms
        if a.name in LIST_RESTS
    )
    if no_feed and need.step.asks in TRIED and not cures:
        return True
    return need.rank in (Rank.REMEDY, Rank.READING)


# --- from the alarms


def alarms(context: EventContext) -> Iterator[Need]:
    """Every alarm that is not the consequence of another; the overdue readings are below."""
    for alarm in context.state.watch.spoken():
        if alarm.shelved_until is None and alarm.name not in OVERDUE and _speaks(context, alarm):
            yield _need_of(context, alarm)


def _need_of(context: EventContext, alarm: Alarm) -> Need:
    rank, acted = RANK_OF[alarm.rule.grade], acts_reported.acted(context, alarm)
    fresh = not context.elapsed(alarm.raised_at, FIRST_ACTS_S)
    late = alarm.rule.kind == "overdue"  # a danger that is only overdue comes after one seen
    wants_none = rank is Rank.DANGER or _stops_the_heat(alarm) or alarm.name in PROVE_FIRST
    heated = wants_none and any(acts_reported.heats(r, alarm, context) for r in context.accepted)
    moved = alarm.rule.group in NOBODY_MOVES and OPENED in context.accepted
    good = beside.better_once(context, alarm)
    better = good and not heated
    other = ONCE_MORE if better else _worse_or_done(context, alarm)
    words = _once_more(alarm, heated) if good else _prove_first(alarm, heated)
    return Need(
        ALARM + alarm.name + other,
        rank,
        float("inf") if late else alarm.rule.respond_within_s,
        -alarm.raised_at,
        alarm,
        words=danger_words.words(context, alarm) if other == GLASS_DOUBTED else words,
        calmer=acted or (alarm.name == NOBODY and acts_reported.acts_wait(context)),
        provoked=heated or moved or _opposes(context, alarm) or beside.renewed(context, alarm),
        holds_others=rank is Rank.DANGER and fresh and not acted and not better,
    )


def _stops_the_heat(alarm: Alarm) -> bool:
    """Whether its words stop the heat, or its boiler is not to be steamed."""
    unfit = alarm.name in water_forbids.UNFIT or alarm.name in NO_FIRING
    return unfit or heat_stop.wants_no_fire(alarm)


def _worse_or_done(context: EventContext, alarm: Alarm) -> str:
    """What is added to its name where its words are others now: then they are said at once."""
    if alarm.name == level_unknown.NAME and picture_now(context).heat_stopped:
        new = picture_now(context).glass.put_in_at is not None
        return level_unknown.HEAT_STOPPED + (level_unknown.NEW_GLASS if new else "")
    if alarm.name == danger_words.LOW_WATER and danger_words.doubts_the_glass(context):
        return GLASS_DOUBTED
    if alarm.name == stuck_clack.NAME and stuck_clack.fallen(context):
        return stuck_clack.FALLING
    return ""


def _opposes(context: EventContext, alarm: Alarm) -> bool:
    """Whether a feed put on, or a pressure that rises, goes against what it wants.

    Where the heat was stopped, what rises is heat that is left in.
    """
    if alarm.name in (stuck_clack.NAME, FED_UNSEEN):
        return stuck_clack.fed(context)
    wants_none = alarm.rule.act in danger_words.HEAT_ACTS
    opposed = wants_none or alarm.name in (level_unknown.NAME, OVER_PRESSURE)
    return opposed and level_unknown.rises(context)


def _once_more(alarm: Alarm, heated: bool) -> str:
    """After one good reading: what ends it, or the act where heat was put on meanwhile."""
    return alarm.rule.still_text if heated else alarm.rule.once_more_text


def _prove_first(alarm: Alarm, heated: bool) -> str:
    """Heat put on over a glass that is not proved, in words; empty: its own words do."""
    return alarm.rule.with_act(NO_HEAT_YET) if heated and alarm.name in PROVE_FIRST else ""


def _speaks(context: EventContext, alarm: Alarm) -> bool:
    """Whether it is still to be said: cautions and warnings not while back to normal.

    Nor while a graver one of its group is said.
    """
    if beside.silenced(context, alarm) or water_forbids.is_done(context, alarm):
        return False
    normal = alarm.rule.normal(context.alarm_inputs, context.at)
    if ALARM + alarm.name not in context.state.asked:
        danger, new = alarm.rule.grade is Grade.DANGER, alarm.raised_at >= context.at
        return danger or new or not normal
    if _at_rest(context) and (
        alarm.rule.grade is Grade.DANGER or alarm.rule.group in QUIET_AT_REST
    ):
        return False
    if alarm.rule.grade is Grade.DANGER:
        return True
    if alarm.name == beside.NOT_GAINED and beside.no_feed_told(context, Grade.WARNING):
        return False
    once = alarm.rule.group in ONCE
    return not once and not normal


def _at_rest(context: EventContext) -> bool:
    """Whether the fire is out and the gauge at rest: nothing presses any more."""
    inputs = context.alarm_inputs
    if picture_now(context).gauge.value == "in conflict":
        return False
    return inputs.state("fire") in ("drawn", "dead", "run down") and inputs.gauge_at_rest


# --- readings


def _readings(context: EventContext, listed: list[Need]) -> Iterator[Need]:
    """Pressure and water before they are old, and louder once they are; also beside a danger."""
    if _at_rest(context) and context.state.watch.danger:
        return  # nothing presses; putting away asks what it needs
    by_step = {need.step.asks for need in listed if need.step and _asks_value(need.step)}
    for order, gauge in enumerate(("water", "pressure")):
        if gauge == "water" and context.state.watch.stands(BROKEN):
            continue  # nothing can be read in it: that danger speaks
        late = [a for a in context.state.watch.spoken() if OVERDUE.get(a.name) == gauge]
        alarm = max(late, key=lambda each: each.rule.grade, default=None)
        if gauge == "water" and beside.boiler_failed(context):
            if alarm is not None or prompts.is_wanted(context, gauge):
                yield _from_safety(context, alarm)
            continue
        speaks = alarm if loud_now(context) is Loud.QUIET else None  # only alarms still do
        words = told_in_words.words(context, gauge)
        if words and (alarm is None or alarm.rule.grade is not Grade.DANGER):
            now = told_in_words.now(context, gauge)
            yield Need(gauge, Rank.READING, 0.0, order, speaks, gauge, words=words, provoked=now)
            continue
        if alarm is not None and _seen_danger(context, alarm.rule.group):
            yield Need(gauge, Rank.READING, order=order, alarm=speaks, gauge=gauge, calmer=True)
            continue
        if alarm is not None and _to_be_asked_first(context, alarm):
            # the question comes before the warning that it was not answered
            yield Need(gauge, Rank.READING, order=order, gauge=gauge)
        elif alarm is not None and alarm.rule.grade is Grade.DANGER:
            yield Need(gauge, Rank.DANGER, order=order, alarm=alarm, gauge=gauge)
        elif alarm is not None:
            calmer = context.state.watch.danger
            yield Need(gauge, Rank.READING, order=order, alarm=alarm, gauge=gauge, calmer=calmer)
        elif gauge == "pressure" and _unread_at_the_valve(context):
            words = engine_words.what_at_the_valve()
            now = any(report.what == "valve" for report in context.accepted)
            yield Need(gauge, Rank.READING, 0.0, gauge=gauge, words=words, provoked=now)
        elif gauge not in by_step and prompts.is_wanted(context, gauge):
            now = gauge == "pressure" and _water_after_a_break(context)
            yield Need(gauge, Rank.READING, order=order, gauge=gauge, provoked=now)


def _water_after_a_break(context: EventContext) -> bool:
    """Whether the water was just called after a break, and the pressure not yet: it is next."""
    water = any(report.what == "water" for report in context.accepted)
    return water and prompts.not_called_since_a_break(context)


def _from_safety(context: EventContext, alarm: Alarm | None) -> Need:
    """The water, where nobody is sent near: in the danger's time until that was heard."""
    words = engine_words.water_from_safety(None if alarm is None else alarm.rule.grade)
    calmer = (
        alarm is None or alarm.rule.grade is not Grade.DANGER or alarm.acknowledged_at is not None
    )
    return Need("water", Rank.READING, alarm=alarm, gauge="water", words=words, calmer=calmer)


def _to_be_asked_first(context: EventContext, alarm: Alarm) -> bool:
    """Whether the water was not asked for yet: its interval has just become shorter."""
    picture, asked = picture_now(context), OVERDUE[alarm.name] in context.state.asked
    since, interval_s = picture.steam.since, picture.water.interval_s or 0.0
    shorter = since is None or not context.elapsed(since, interval_s)
    warned = alarm.rule.grade is Grade.WARNING and not asked
    return warned and shorter and loud_now(context) is not Loud.QUIET


def _unread_at_the_valve(context: EventContext) -> bool:
    """Whether the valve moves over a gauge that was not called near it."""
    return picture_now(context).gauge.unread_since is not None


def _seen_danger(context: EventContext, group: str) -> bool:
    """Whether a danger that was seen presses in this group: only its words are said."""
    return any(
        alarm.rule.grade is Grade.DANGER and alarm.rule.group == group
        for alarm in context.state.watch.spoken()
        if alarm.name not in OVERDUE and not acts_reported.acted(context, alarm)
    )


def _asks_value(step: Step) -> bool:
    return step.kind == "value" and step.asks in READINGS


# --- the lists


def _not_late(context: EventContext, listed: list[Need]) -> Iterator[Need]:
    """The steps, but no overdue reading and no act that an alarm tells: both are said louder."""
    late = {OVERDUE[a.name] for a in context.state.watch.spoken() if a.name in OVERDUE}
    late |= {"pressure"} if _unread_at_the_valve(context) else set()
    acts = heat_rows.told(context)
    for need in listed:
        step = need.step
        if step is None or step.asks not in (late if _asks_value(step) else acts):
            yield need


def _steps(context: EventContext) -> Iterator[Need]:
    """Steps of the list in hand and of the one that waits behind a remedy."""
    work = context.state.procedure
    remedy = bool(work.parked) and work.progress.checklist.name != remedies.TAKING_OVER
    called = remedy and _speaks_of(context, work.progress)
    for need in _steps_of(context, work.progress, Rank.REMEDY if remedy else Rank.STEP):
        yield replace(need, at_once=called)
    for order, step in enumerate(following.warm_steps(context)):
        yield Need(step_name(step), Rank.DUE, STEP_S, order, step=step)
    alone = remedy and _nobody_answers(context, work.progress)
    for parked in work.parked:
        for need in _steps_of(context, parked, Rank.STEP):
            must = need.step is not None and need.step.must
            if need.rank is Rank.DUE or (alone and must):
                yield need


def _nobody_answers(context: EventContext, progress: Progress) -> bool:
    """Whether the step in hand was put as often as one is before the list goes on without it."""
    step = position.in_hand(progress)
    if step is None or context.state.phase not in GUARDED:
        return False
    return _times_put(context, step) >= unanswered.TIMES


def _speaks_of(context: EventContext, progress: Progress) -> bool:
    """Whether this event called the remedy, or answered one of its checks: he listens for more."""
    if Report(remedies.REMEDY, progress.checklist.name) in context.accepted:
        return True
    subjects = {step.asks for step in progress.steps}
    return any(r.what in subjects and r.value == remedies.STILL_THERE for r in context.accepted)


def _steps_of(context: EventContext, progress: Progress, usual: Rank) -> Iterator[Need]:
    """What the gauge has made due, whatever else is open; then the first step of the others."""
    ready = position.ready_steps(progress)
    last_of = {step.asks: step for step in ready if _is_timed(step)}
    ready = tuple(step for step in ready if not _is_past(context, step))
    plain = [step for step in ready if not _is_timed(step)]
    hand = position.in_hand(progress)
    for order, step in enumerate(ready):
        if _is_timed(step):
            if step.must or last_of[step.asks] is step:
                yield _step_need(context, step, Rank.DUE, order)
        elif step is _next_of(context, plain, hand):
            yield _step_need(context, step, usual, order)
    left = position.current(progress)
    if not ready and left is not None:
        yield _step_need(context, left, usual, 0)


def _next_of(context: EventContext, plain: list[Step], hand: Step | None) -> Step:
    """Which of these steps is put now: the one in hand. With the fire lit, where nobody answers a
    killer, the others are put as well.
    """
    step = hand if hand is not None and hand in plain else plain[0]
    early = context.state.phase in (Phase.PREPARATION, Phase.FIRING)
    if not step.must or not early or _times_put(context, step) < UNANSWERED:
        return step
    asked = context.state.asked.get(step_name(step))
    wait_s = READING_NEXT_S if _asks_value(step) else NEXT_S
    if asked is None or not context.elapsed(asked.last_at, wait_s):
        return step
    if not picture_now(context).fire.burning:
        return step
    killers = (each for each in plain if each.must)
    return min(killers, key=lambda each: _times_put(context, each), default=step)


def _times_put(context: EventContext, step: Step) -> int:
    asked = context.state.asked.get(step_name(step))
    return 0 if asked is None else asked.times


def _is_past(context: EventContext, step: Step) -> bool:
    """Whether it takes heat away, and the gauge has fallen again from where it was due."""
    if step.asks not in HEAT or step.due is None or not _near_working(step):
        return False
    due_pa = position.due_gauge_pa(step.due, context.config.engine)
    return heat_rows.gauge_pa(context) < FALLEN * due_pa


def _is_timed(step: Step) -> bool:
    return step.due is not None or step.near_boiling


def _step_need(context: EventContext, step: Step, rank: Rank, order: float) -> Need:
    if step.must and _asks_value(step) and prompts.is_wanted(context, step.asks):
        rank = Rank.READING
    takes_heat = rank is Rank.DUE and step.asks in HEAT and _near_working(step)
    respond_s = HEAT_S if takes_heat else KILLER_S if step.must else STEP_S
    return Need(step_name(step), rank, respond_s, order, step=step)


def _near_working(step: Step) -> bool:
    """Whether it is due so near the wanted pressure that it takes heat away."""
    return (
        step.due is not None
        and step.due.figure == "working pressure"
        and (step.due.times >= NEAR_WORKING)
    )


def step_name(step: Step) -> str:
    """The key under which a step is remembered as put."""
    return STEP + step.id


def offers(context: EventContext) -> Iterator[Need]:
    """Work for the waiting time."""
    step = position.offered(context.state.progress)
    hot = context.state.phase in prompts.STEAM or context.state.fire_in
    if hot and step is not None and context.state.procedure.offered != step.id:
        yield Need("offer", Rank.OFFER, step=step)


ROWS: tuple[Row, ...] = (
    alarms,
    before_match.needs,
    engine_rows.valve,
    engine_rows.heat,
    engine_rows.draught,
    engine_rows.damper,
    engine_rows.people,
    engine_rows.gauge_trouble,
    remark_rows.remarks,
    engine_rows.night,
    runaway_rows.after_runaway,
    offers,
)
