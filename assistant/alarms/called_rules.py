"""The rows of the alarm table for dangers that somebody calls.

Only the table. Each is raised by its call, in any phase, and ends when it is called over.
"""

from __future__ import annotations

from collections.abc import Callable

from assistant.alarms import other_rules as other
from assistant.alarms.condition import BackToNormal, Condition, never, no_longer
from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.rule import Rule
from assistant.messages import Grade

FIREHOLE = "stay away from the firehole, everybody back, leave its door shut"


def _called(
    name: str,
    *,
    spoken: tuple[str, str, str],
    action: str,
    consequence: str,
    causes: str,
    grade: Grade = Grade.DANGER,
    denied_at: Callable[[AlarmInputs, float], float] = other.never_denied,
    ends: BackToNormal = other.may_end,
    also: Condition | None = None,
) -> Rule:
    """A danger that is called. spoken: what is said of it, subject, state and act.

    denied_at: when a report last showed that it is not so [s]. ends: whether a word may end it.
    also: what raises it without the call.
    """
    condition = other.emergency_called(name, denied_at, ends)
    condition = condition if also is None else other.either(condition, also)
    subject, state, act = spoken
    return Rule(
        name=name, kind="spoken", grade=grade, group=name,
        when="somebody calls it", action=action, consequence=consequence, causes=causes,
        respond_within_s=10, detected_by="a call",
        suppression="never" if grade is Grade.DANGER else "none",
        subject=subject, state=state, act=act,
        condition=condition, normal=no_longer(condition),
        announces_end=False,
    )  # fmt: skip


# Those whose acts every emergencies file gives; the acts of the others may be left out of it.
ALWAYS_CALLED: tuple[Rule, ...] = (
    _called(
        "steam escaping",
        spoken=("steam", "escaping", "stand clear"),
        action="stand clear, stop the heat if it is safe",
        consequence="scalds, loss of water",
        causes="joint, pipe, plug or tube failed",
    ),
    _called(
        "glass broken",
        spoken=("glass", "broken", "face away"),
        action="face away, shut both glass cocks",
        consequence="scalds, and the level is unknown",
        causes="age, knock, tight packing",
        denied_at=other.glass_replaced_at,
        ends=never,
    ),
    _called(
        "someone hurt",
        spoken=("someone", "hurt", "regulator shut, call help"),
        action="stop the engine, call for help",
        consequence="a second injury, or one not treated",
        causes="motion, heat, steam, a fall",
    ),
    _called(
        "fire outside",
        spoken=("fire", "outside", "everybody back"),
        action="everybody back, call for help",
        consequence="burns, the fire spreads",
        causes="lighting fluid, hot ash, oil",
    ),
)
CALLED: tuple[Rule, ...] = (
    _called(
        "plug has gone",
        spoken=("plug", "gone", "away from the firehole"),
        action=FIREHOLE,
        consequence="steam and fire out of the firehole, over a crown that may be bare",
        causes="low water, a plug failed of age",
    ),
    _called(
        "tube has burst",
        spoken=("tube", "burst", "away from the firehole"),
        action=FIREHOLE,
        consequence="steam and fire out of the firehole, water lost",
        causes="tube thin or corroded, scale, low water",
    ),
    _called(
        "water in the firebox",
        spoken=("water in firebox", "", "away from the firehole"),
        action=FIREHOLE,
        consequence="steam and fire out of the firehole, water lost",
        causes="tube, stay, seam or plug leaking",
    ),
    _called(
        "plate is red hot",
        spoken=("plate", "red hot", "everybody away"),
        action="stop the heat, no feed, touch no steam valve, everybody away",
        consequence="a plate that glows or bulges lets go, most of all where water or steam moves",
        causes="plates bare behind a false glass, scale, oil in the water",
    ),
    _called(
        "safety valve is stuck",
        spoken=("valve", "stuck", "damper and blower shut"),
        action="stop the heat, everybody away, leave the valve alone",
        consequence="nothing limits the pressure",
        causes="valve corroded, gagged or set wrong",
        denied_at=other.valve_moved_at,
        ends=other.presses_no_more,
        also=other.valve_told_held,
    ),
    _called(
        "regulator is stuck open",
        spoken=("regulator", "stuck open", "reverser to mid gear"),
        action="reverser to mid gear, drain cocks open, brake on, everybody clear",
        consequence="the engine runs on",
        causes="valve jammed or dry, rod parted, water carried over",
        denied_at=other.regulator_shut_at,
        ends=never,
    ),
    _called(
        "engine is running away",
        spoken=("running away", "", "regulator shut, brake hard on"),
        action="regulator shut, brake hard on, shout people clear",
        consequence="people are run down",
        causes="hill too steep, out of gear on it, brake failed",
        denied_at=other.stopped_at,
    ),
    _called(
        "engine creeps",
        spoken=("she", "creeps", "regulator shut, brake on"),
        action="regulator shut, brake on, mid gear, drain cocks open, chocks on both sides",
        consequence="somebody is caught or run over",
        causes="regulator passing, no brake, no chocks, a slope",
        grade=Grade.WARNING,
        denied_at=other.cannot_creep_at,
    ),
    _called(
        "somebody is burned",
        spoken=("somebody", "burned", "cool running water"),
        action="away from the heat, cool running water for twenty minutes, call for help",
        consequence="a deeper burn",
        causes="steam, hot water, hot metal, fire",
    ),
    _called(
        "chimney fire",
        spoken=("chimney fire", "", "damper and blower shut"),
        action="damper, blower and doors shut, watch what falls downwind",
        consequence="sparks set fire to what is near",
        causes="soot and tar alight, fierce fire",
    ),
    _called(
        "clack is stuck open",
        spoken=("clack", "stuck open", "stop the pump"),
        action="pump stopped, the clack's stop valve shut, damper shut, watch the glass",
        consequence="the boiler empties through the feed pipe",
        causes="grit under the clack, clack worn",
        ends=other.level_kept,
    ),
    _called(
        "blow down is stuck open",
        spoken=("blow-down", "stuck open", "damper and blower shut"),
        action="everybody clear of the blow-down, stop the heat",
        consequence="the boiler empties, the crown runs bare",
        causes="grit in the cock, cock opened too far",
        denied_at=other.blow_down_shut_at,
    ),
    _called(
        "someone is trapped",
        spoken=("someone", "trapped", "regulator shut, call help"),
        action="regulator shut, drain cocks open, mid gear, call for help",
        consequence="a deeper injury when she moves",
        causes="hands in the motion, cleaning her while she turns",
    ),
    _called(
        "driver is ill",
        spoken=("driver", "ill", "fresh air, call help"),
        action="out into fresh air, call for help, somebody else takes the boiler",
        consequence="a fired boiler that nobody watches; the fumes take the next one",
        causes="fumes under a roof, heat, illness",
    ),
    _called(
        "flames out of the firehole",
        spoken=("flames", "out of the firehole", "stand aside"),
        action="stand aside, blower a crack and damper open where no heat is stopped, door shut",
        consequence="burns to face and hands",
        causes="door opened without blower or damper, tunnel, wind, a tube failed",
        denied_at=other.drawn_in_at,
    ),
    _called(
        "touched a power line",
        spoken=("power line", "", "stay on, everybody back"),
        action="stay on, keep everybody ten metres away, drive clear if she will move",
        consequence="whoever steps down or comes near is electrocuted",
        causes="chimney, whistle or load under a line",
    ),
    _called(
        "engine is over",
        spoken=("she is", "over", "everybody away"),
        action="everybody away, stop the heat only where it is safe, no feed",
        consequence="bare plates, steam and fire where nobody expects them",
        causes="soft verge, hill, no brake",
    ),
    _called(
        "child inside the barrier",
        spoken=("child", "inside", "regulator shut, brake on"),
        action="regulator shut, brake on, nobody moves her, fetch them out from the front",
        consequence="somebody is run over",
        causes="no barrier, nobody at it",
        grade=Grade.WARNING,
    ),
)
