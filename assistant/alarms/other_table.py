"""The rows of the alarm table for overdue readings, devices, the plan and the list."""

from __future__ import annotations

from assistant.alarms import other_rules as other
from assistant.alarms.rule import Rule
from assistant.messages import Grade

D, W, C = Grade.DANGER, Grade.WARNING, Grade.CAUTION
NEVER = "never"

OTHER: tuple[Rule, ...] = (
    Rule(
        name="microphone lost", kind="device", grade=W, group="hearing",
        when="no sound frames come from the microphone",
        action="look at plug and switch, go on by the gauges",
        consequence="readings and calls are not heard", causes="cable, battery, other program",
        respond_within_s=120, detected_by="the watch on sound frames", suppression="typed sessions",
        subject="I cannot", state="hear you", act="check the microphone",
        more="Look at the glass; press or type.",
        condition=other.device_lost("microphone"), normal=other.is_device_back("microphone"),
        announces_end=False,
    ),
    Rule(
        name="speaker lost", kind="device", grade=W, group="speaking",
        when="sentences cannot be played", action="watch gauges, then the screen, look at the plug",
        consequence="warnings are not heard", causes="cable, battery, other program",
        respond_within_s=120, detected_by="a sentence that failed", suppression="typed sessions",
        subject="speaker", state="lost", act="watch gauges, then screen",
        condition=other.device_lost("speaker"), normal=other.is_device_back("speaker"),
        announces_end=False,
    ),
    Rule(
        name="forecast far from plan", kind="disagreement", grade=C, group="plan",
        when="wanted pressure expected fifteen minutes or more off the plan",
        action="ask for the reason; change fire or plan", consequence="late, or hurried",
        causes="fire slow or fast, wet fuel, wind, leak",
        respond_within_s=1200, detected_by="the forecast", suppression="no plan made",
        subject="time to pressure", state="changed", act="ask me why",
        condition=other.far_from_plan, normal=other.near_plan,
    ),
    Rule(
        name="pressure reading overdue", kind="overdue", grade=C, group="pressure unread",
        when="no pressure reading for two intervals",
        action="read the gauge and call it", consequence="the forecast drifts",
        causes="busy, gone, not heard",
        respond_within_s=300, detected_by="the clock", suppression="before steam is raised",
        subject="pressure reading", state="overdue", act="what does it show?",
        condition=other.pressure_overdue, normal=other.not_overdue(other.pressure_overdue),
        deadline=other.pressure_due, announces_end=False,
    ),
    Rule(
        name="step left open", kind="disagreement", grade=C, group="steps",
        when="a step was left open aloud", action="do it before the gate, or say why not",
        consequence="forgotten when it matters", causes="skipped",
        respond_within_s=1800, detected_by="the checklist", suppression="none",
        subject="a step", state="stays open", act="I ask again",
        condition=other.left_open, normal=other.nothing_open,
    ),
)  # fmt: skip
