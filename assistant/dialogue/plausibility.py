"""How well a report fits the boiler and its gauges, and how carefully it must be heard."""

from __future__ import annotations

from assistant.alarms.water_rules import hot
from assistant.belief import estimate
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Heard, Report
from assistant.picture.glass import BROKEN
from assistant.picture.report_log import TimedReport
from assistant.procedure.position import in_hand
from assistant.procedure.scale import measure, pressure_unit_pa
from assistant.understanding.meanings import Care, Mark
from assistant.wording import readback

DRAWN, FIRE_OUTSIDE = Report("fire", "drawn"), "fire outside"  # the alarm
OUTSIDE_OR_HERS = "the one outside, or hers"
PRESSED_OTHERWISE = "pressed otherwise just now"
TOGETHER_S = 1.0  # presses so near each other were made without knowing of each other. Judgement
NEAR_A_MARK = 0.08  # of the glass; common practice, no source


def plausibility_of(context: EventContext, report: Report) -> float | None:
    """How probable the report is by the belief; None when that is not known."""
    return context.or_none(lambda: estimate.chance(context.state.belief, report))


def objection_to(
    context: EventContext, report: Report, belief: estimate.Belief | None = None
) -> str | None:
    """Why the report contradicts the belief, or may be of something else; None when it does not, or
    that is not known.
    """
    if report == DRAWN and context.state.fire_in and context.state.watch.stands(FIRE_OUTSIDE):
        return OUTSIDE_OR_HERS
    if pressed_otherwise(context, report):
        return PRESSED_OTHERWISE
    level = report.what == "water" and isinstance(report.value, float)
    if level and context.state.watch.stands(BROKEN):
        return "the glass is broken"
    if level and context.or_none(lambda: _another_glass(context)):
        return None
    return context.or_none(lambda: estimate.objection(belief or context.state.belief, report))


def pressed_otherwise(context: EventContext, report: Report) -> bool:
    """Whether it is pressed, and another state of the same was told within a second: two people at
    two screens, or a slip. The first counts.
    """
    last = context.state.latest(report.what)
    return last is not None and last.report != report and pressed_with(context, last)


def pressed_with(context: EventContext, last: TimedReport) -> bool:
    """Whether this is a press, and that was told within a second before it."""
    pressed = isinstance(context.event, Heard) and context.event.pressed
    return pressed and context.at - last.at <= TOGETHER_S


def at_the_valve(context: EventContext, report: Report) -> bool:
    """Whether it is a pressure at which the valve should move, over heat, and no fire explains it:
    one that was only heard badly is asked about, and no more.
    """
    if report.what != "pressure" or not hot(picture_now(context)):
        return False
    if objection_to(context, report) is None:
        return False
    value = measure(report, context.config.engine)
    return value is not None and value >= context.config.engine.valve_moves_gauge_pa


def has_fallen(context: EventContext, report: Report) -> bool:
    """Whether it is a pressure lower than the last by more than the belief allows."""
    if report.what != "pressure" or objection_to(context, report) is None:
        return False
    value, last = measure(report, context.config.engine), context.state.latest("pressure")
    before = None if last is None else measure(last.report, context.config.engine)
    return value is not None and before is not None and value < before


def _another_glass(context: EventContext) -> bool:
    """Whether every level called before was read in a glass that was then found false."""
    last = context.state.latest("water")
    reads_from = picture_now(context).glass.reads_from
    return last is not None and reads_from is not None and last.at < reads_from


def off_gauge_reason(context: EventContext, report: Report) -> str | None:
    """A reason if no gauge of this engine can show the value."""
    engine = context.config.engine
    if isinstance(report.value, str):
        return None
    value = measure(report, engine)
    if value is None:
        return None
    if report.what == "pressure" and value > engine.dial_top_gauge_pa * 1.001:
        dial_top = float(round(engine.dial_top_gauge_pa / pressure_unit_pa(report.unit)))
        return readback.off_gauge(dial_top, report.unit or "psi")
    if report.what == "pressure" and value < 0.0:
        return readback.UNDER_THE_GAUGE
    if report.what in ("water", "tank") and not -1e-6 <= value <= 1.0 + 1e-6:
        return readback.not_on_scale(report.what)
    return None


def care_now(context: EventContext) -> Care:
    """How carefully an utterance must be heard now."""
    step = in_hand(context.state.progress)
    if step is not None and step.must:
        return Care.HOLD
    water = context.state.latest("water")
    return Care.MARK if water and mark_of(context, water.report) else Care.USUAL


def mark_of(context: EventContext, report: Report) -> Mark | None:
    """Where a reported height of the water stands to the engine's marks."""
    level = measure(report, context.config.engine) if report.what == "water" else None
    if level is None:
        return None
    glass = context.config.engine.glass
    if level <= glass.lower_mark + 1e-6:
        return Mark.LOW
    near = min(abs(level - mark) for mark in (glass.lower_mark, glass.upper_mark)) < NEAR_A_MARK
    return Mark.NEAR if near else None
