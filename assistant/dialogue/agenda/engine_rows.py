"""Needs that come from the state of the engine itself, whatever list is in hand. Speaks nothing."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.dialogue import banking
from assistant.dialogue.agenda import beside, heat_rows, heat_stop, remark_rows, water_forbids
from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import READINGS, Grade
from assistant.picture.motion import CAUGHT
from assistant.picture.picture import Picture
from assistant.procedure import remedies
from assistant.procedure.checklist import Phase
from assistant.procedure.scale import pressure_unit_pa
from assistant.wording import engine_words, people_words, readback

VALVE_S, HEAT_S, ASK_S = 120.0, 180.0, 300.0  # times to respond. Judgement
RISING = 0.02  # of working pressure; less between two readings is hunting. Judgement
LOW = 0.6  # of working pressure: below it nobody holds her back who raises steam. Judgement
SHUT = frozenset({"shut", "crack"})
NEAR_WORKING = 0.85  # of working pressure: from here on the fire is meant to be held back
HELD_S = 600.0  # a damper shut for so long was shut to ease her, not to bring her down. Judgement
JUST_S = 120.0  # a report so old still asks for what belongs to it. Judgement
CLEAR_S = 1800.0  # told clear longer before she moves, people may have come back. Judgement
STARVED_S, SETTLES_S = 300.0, 60.0  # behind a shut damper a fire is starved, is held. Judgement
COMES_UP = 0.07  # of working pressure: more than two calls may err by. Judgement
WATER_DUE = 0.8  # of its interval: from then on the water is asked for
SILENT = "valve silent"  # the alarm that follows
FALLING = "pressure falling"  # the alarm beside which the damper is spoken of
AT_ITS_FEATHER, AT_ITS_LIFT = "valve at its feather", "valve at its lift"
FIRE_ASKED, PEOPLE_ASKED, STUCK_ASKED = "fire asked", "people asked", "damper stuck asked"
TWICE = 2  # so often it is asked before it waits for the list
NIGHT_NAME, NIGHT_S = "who stays with her", 60.0
UNSETTLED, TROUBLE = "gauge and valve unsettled", remedies.GAUGE_TROUBLE
MOVING = frozenset({Phase.TICK_OVER, Phase.PUMPING})  # phases in which she turns
RAISING = frozenset({Phase.RAISING_STEAM, Phase.TICK_OVER, Phase.PUMPING})


def valve(context: EventContext) -> Iterator[Need]:
    """Past the pressure at which the valve should move, and it was not told that it does."""
    seen, engine = picture_now(context).valve, context.config.engine
    alarmed = context.state.watch.stands(SILENT)
    stuck = context.state.watch.stands(beside.STUCK)
    if seen.value != "overdue" or stuck or (alarmed and not seen.over_lift):
        return
    feathers, dial = engine.valve_feathers_gauge_pa, context.dial
    if seen.over_lift or feathers is None:
        words = engine_words.does_it_lift()
    else:
        words = engine_words.does_it_feather(feathers / pressure_unit_pa(dial), dial)
    name = AT_ITS_LIFT if seen.over_lift else AT_ITS_FEATHER
    rank = Rank.STOP if seen.over_lift else Rank.DUE  # by the gravest that it may mean
    yield Need(name, rank, VALVE_S, words=words)


def _told_since_the_gauge(picture: Picture) -> bool:
    """Whether the valve blew and shut after the last reading: that is over."""
    told_s, called_s = picture.valve.age_s, picture.gauge.age_s
    return told_s is not None and called_s is not None and told_s < called_s


def heat(context: EventContext) -> Iterator[Need]:
    """Rising above the valve's figure with the damper shut; rising with the fire called out."""
    picture, engine = picture_now(context), context.config.engine
    now, before = picture.gauge.pressure_pa, picture.gauge.before_pa
    least = RISING * engine.working_pressure_gauge_pa
    rising = now is not None and before is not None and now - before >= least
    high = now is not None and now >= engine.valve_moves_gauge_pa
    blows = picture.valve.value in ("feathering", "lifting") or _told_since_the_gauge(picture)
    if rising and high and not blows and picture.damper.value in SHUT:
        words = engine_words.still_rising(water_forbids.feed_enough(context))
        yield Need("still rising", Rank.DUE, HEAT_S, words=words)
    if picture.fire.asks_fire:
        yield Need(
            FIRE_ASKED,
            Rank.DUE,
            ASK_S,
            words=engine_words.is_there_fire(remark_rows.is_capped(context)),
        )


def damper(context: EventContext) -> Iterator[Need]:
    """The pressure falls under a damper held in or shut, where steam is wanted: open it again."""
    picture, engine = picture_now(context), context.config.engine
    fall, fire = picture.fall, picture.fire
    if fall is None or not fall.clear or not fall.damper_in or context.state.phase not in RAISING:
        return
    if fall.now_pa >= NEAR_WORKING * engine.working_pressure_gauge_pa:
        return
    if fall.because not in ("", "fire held back") or fire.value == "banked" or _warned(context):
        return
    if fall.because and (picture.damper.age_s or 0.0) < HELD_S:
        return  # shut a short time ago: it is meant to fall
    told = context.state.watch.stands(FALLING)
    yield Need("damper again", Rank.DUE, HEAT_S, words=engine_words.damper_open_again(told))


def _warned(context: EventContext) -> bool:
    """Whether a warning or danger stands, the heat is stopped, or the water goes first: no act of
    ours puts heat on.
    """
    if heat_rows.water_first(context) or heat_stop.told(context) or _water_is_due(context):
        return True
    return any(alarm.rule.grade > Grade.CAUTION for alarm in context.state.watch.alarms)


def _water_is_due(context: EventContext) -> bool:
    """Whether the water is asked for: it is called before more heat."""
    water = picture_now(context).water
    if water.interval_s is None:
        return False
    return water.age_s is None or water.age_s >= WATER_DUE * water.interval_s


def people(context: EventContext) -> Iterator[Need]:
    """The regulator was just opened, and nobody has told of the people; or somebody was hurt beside
    her, and she is to move again.
    """
    motion = picture_now(context).motion
    if motion.caught and context.state.phase in MOVING:
        if not context.state.watch.stands(*CAUGHT):
            words = engine_words.is_everyone_clear()
            yield Need(PEOPLE_ASKED, Rank.DUE, VALVE_S, words=words)
        return
    age_s = motion.regulator.age_s
    if motion.regulator.value != "open" or age_s is None:
        return
    told_s = motion.people.age_s
    old = told_s is not None and told_s - age_s > CLEAR_S
    if motion.people.value != "unknown" and not old:
        return
    told = context.state.reports.of("regulator")
    opened = len(told) > 1 and told[-2].report.value == "shut"
    if age_s < JUST_S:
        rank = Rank.STOP if opened else Rank.DUE  # told open at the taking over: it was no act
        words = engine_words.is_everyone_clear(opened)
        yield Need(PEOPLE_ASKED, rank, VALVE_S, words=words)


def gauge_trouble(context: EventContext) -> Iterator[Need]:
    """Gauge and valve differ and the heat is stopped: how to find which is wrong."""
    work = context.state.procedure
    stands = context.state.watch.says(UNSETTLED)
    begun = any(t.report.value == TROUBLE for t in context.state.reports.of(remedies.REMEDY))
    has_list = any(remedy.name == TROUBLE for remedy in context.config.remedies)
    busy = bool(work.parked) and work.progress.checklist.name != remedies.TAKING_OVER
    if stands and has_list and not begun and not busy:
        yield Need(TROUBLE, Rank.DUE, ASK_S, words=engine_words.gauge_trouble_offered())


def draught(context: EventContext) -> Iterator[Need]:
    """Steam is raised, well below the wanted pressure, behind a damper that was told to be shut; or
    the pressure comes up behind it, in any work.
    """
    if _rises_behind_the_damper(context):
        asked = context.state.asked.get(STUCK_ASKED)
        seldom = asked is not None and asked.times >= TWICE
        rank = Rank.STEP if seldom else Rank.DUE
        yield Need(STUCK_ASKED, rank, HEAT_S, words=engine_words.is_damper_stuck())
        if not seldom:
            return
    if context.state.phase is not Phase.RAISING_STEAM or context.state.procedure.parked:
        return
    picture, working = picture_now(context), context.config.engine.working_pressure_gauge_pa
    low = picture.gauge.pressure_pa is not None and picture.gauge.pressure_pa < LOW * working
    shut = picture.damper.value == "shut" and picture.fire.burning
    if low and shut and not _warned(context):
        yield Need("damper to open", Rank.DUE, ASK_S, words=engine_words.damper_to_open())


def _rises_behind_the_damper(context: EventContext) -> bool:
    """Whether the damper has been told shut for some minutes, no blower on, and the gauge has come
    up since: heat that was in the fire is spent by then. Where the valve moves an alarm asks it.
    """
    picture, inputs = picture_now(context), context.alarm_inputs
    shut = context.state.latest("damper")
    if shut is None or shut.report.value != "shut" or not picture.fire.burning:
        return False
    stuck = "damper" in heat_stop.stuck(context)
    if stuck or picture.blower.value in ("half", "open") or not context.elapsed(shut.at, STARVED_S):
        return False
    called = inputs.numbers("pressure")
    from_s = shut.at + SETTLES_S
    near = min(called, key=lambda each: abs(each[1] - from_s), default=None)
    if near is None or called[-1][1] < shut.at + STARVED_S:
        return False
    risen_pa = called[-1][0] - near[0]
    if len(called) > 1 and called[-1][0] < called[-2][0]:
        return False  # it falls again
    if called[-1][0] >= context.config.engine.valve_moves_gauge_pa:
        return False
    return risen_pa >= COMES_UP * context.config.engine.working_pressure_gauge_pa


def night(context: EventContext) -> Iterator[Need]:
    """Banked for the night: water, pressure and who stays with her, one after the other."""
    wanted, now = banking.missing(context), bool(context.accepted)
    if wanted in READINGS:
        words = readback.ask_for(wanted)
        yield Need(wanted, Rank.DUE, NIGHT_S, gauge=wanted, words=words, provoked=now)
    elif wanted:
        words = people_words.who_stays()
        yield Need(NIGHT_NAME, Rank.DUE, NIGHT_S, words=words, wants_name=True, provoked=now)
