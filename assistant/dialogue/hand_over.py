"""How she stands, told to the person who takes the watch. Decides nothing."""

from __future__ import annotations

from assistant.alarms.lifecycle import Alarm
from assistant.dialogue import engine_ahead
from assistant.dialogue.acceptance import accept_silently
from assistant.dialogue.agenda import heat_stop, told_in_words
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import OUT_OF_SIGHT, Grade, Report, Urgency
from assistant.procedure import position
from assistant.wording import alarm_words, people_words, quantities, walkthrough

DEFECTS = ("bypass fault", "fire bars", "valve seat", "belt", "gland")
FITTINGS = ("regulator", "blower", "damper", "drains", "bypass", "blow-down")
SHUT_FOR_THE_NIGHT = ("damper", "blower", "regulator", "blow-down")
WIDE = frozenset({"open", "half"})
OPEN = frozenset({"open", "half", "crack"})
LEVEL_UNKNOWN = "level unknown"
KEPT = Report("watch", "kept")  # what standing by asks


def tell(context: EventContext) -> None:
    """Phase, pressure and water with their ages, what stands open, what alarms stand."""
    if any(step.asks == KEPT.what for step in position.open_steps(context.state.progress)):
        accept_silently(context, KEPT)
    alarms = (a for a in context.state.watch.alarms if not a.suppressed)
    context.say(
        people_words.handed_over(
            engine_ahead.how_she_is(context),
            last_reading(context, "pressure"),
            last_reading(context, "water"),
            [*_open_fittings(context), *_left_open(context)],
            [_words(alarm) for alarm in alarms],
            defects(context),
        ),
        Urgency.ANSWER,
    )


def defects(context: EventContext) -> list[str]:
    """What was told to be wrong with her and not to be right since, in words."""
    stuck = heat_stop.stuck(context)
    names = (*(f"{part} fault" for part in sorted(stuck, reverse=True)), *DEFECTS)
    latest = (context.state.latest(name) for name in names)
    return [
        quantities.report_words(timed.report, context.dial) for timed in latest if timed is not None
    ]


def warnings(context: EventContext) -> list[str]:
    """The warnings and dangers that stand, in words."""
    alarms = context.state.watch.alarms
    return [alarm_words.plain(a.name) for a in alarms if a.rule.grade > Grade.CAUTION]


def last_reading(context: EventContext, gauge: str) -> str:
    """The last reading of a gauge with its age, in words; empty when it was never read.

    Not what else was said of the gauge ("no blow-down"), nor a level that is disproved.
    """
    if gauge == "water" and _no_level(context):
        return LEVEL_UNKNOWN
    for timed in reversed(context.state.reports.of(gauge)):
        report = timed.report
        if report.unit is not None or report.value == OUT_OF_SIGHT:
            words = quantities.report_words(report, context.dial)
            return walkthrough.with_age(words, context.at - timed.at)
    return ""


def _no_level(context: EventContext) -> bool:
    """Whether what was called last is no level: the glass is not proved, or broke since."""
    seen, latest = picture_now(context), context.state.latest("water")
    if latest is None or seen.water.out_of_sight:
        return False
    if seen.water.value == "glass broken":  # what is called then was not read in the glass
        return seen.glass.since is None or latest.at <= seen.glass.since
    return seen.water.value == "unproved"


def to_be_shut(context: EventContext) -> list[str]:
    """What was told open that nobody leaves open for the night, as acts; a damper that nothing was
    told of is shut, and the water is well up.
    """
    told = [(name, context.state.latest(name)) for name in SHUT_FOR_THE_NIGHT]
    acts = [
        f"{n} shut" for n, t in told if (n == "damper" if t is None else t.report.value in WIDE)
    ]
    acts += ["water well up"] if _low_to_stand(context) else []
    acts += ["feed off"] if context.state.latest_is("feed", "on") else []
    acts += [f"{part} freed" for part in sorted(heat_stop.stuck(context))]
    acts += ["stood level"] if told_in_words.stands_nose_down(context) else []
    return [*acts, *(["the level known"] if _no_level(context) else [])]


def _low_to_stand(context: EventContext) -> bool:
    """Whether the level last called is under that to which she is filled cold."""
    level, fill = picture_now(context).water.level, context.config.engine.glass.cold_fill
    return level is not None and fill is not None and level < fill


def _open_fittings(context: EventContext) -> list[str]:
    latest = (context.state.latest(name) for name in FITTINGS)
    told = [timed.report for timed in latest if timed is not None]
    found = [f"{r.what} {r.value}" for r in told if r.value in OPEN]
    if context.state.latest_is("stands", "nose down"):
        found.append("standing nose down")
    return [*found, *(["feed running"] if context.state.latest_is("feed", "on") else [])]


def _left_open(context: EventContext) -> list[str]:
    """The steps left open aloud."""
    return [step.id for step in position.open_items(context.state.progress)]


def _words(alarm: Alarm) -> str:
    return f"{alarm.rule.grade.word}, {alarm_words.plain(alarm.name)}"
