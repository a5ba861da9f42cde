"""The table of alarms: each row whole, ten fields and the words. A table; the sums are elsewhere.

Times to respond, and what is not named in the reference of a row, are judgement. `CAUTION`,
`WARNING` and `DANGER` order what is spoken first and what may be put aside.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.alarms import other_rules as other
from assistant.alarms import pressure_rules as pressure
from assistant.alarms import water_rules as water
from assistant.alarms.condition import BackToNormal, ByTime, Condition, never
from assistant.messages import Grade


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One alarm. The ten fields of a rationalised alarm (ISA-18.2, IEC 62682 practice) come first.

    kind: what sort of alarm (level, rate, overdue, disagreement, device, spoken).
    grade: its priority. group: alarms that follow from one another; the first cause is spoken.
    condition: when, in words. action: what the operator does. consequence: of doing nothing.
    causes: the probable ones. respond_within_s: the time there is [s].
    detected_by: from what it is known. suppression: when it keeps quiet.

    thing, state, do: the spoken words, after the grade; eight in all.
    raised: the reason, or None. inside: the reading lies inside by the deadband.
    by_time: when time alone raises it, should nothing be reported [s].
    reads: the gauge whose readings clear it; "" = it clears as soon as `inside` says so.
    readings: how many of them in a row.
    ends_aloud: its end is news; not where the operator's own report ended it, and where pressure
        may still stand high. over: the words for it.
    """

    name: str
    kind: str
    grade: Grade
    group: str
    condition: str
    action: str
    consequence: str
    causes: str
    respond_within_s: float
    detected_by: str
    suppression: str
    thing: str
    state: str
    do: str
    raised: Condition
    normal: BackToNormal
    by_time: ByTime = never
    reads: str = ""
    readings: int = 2
    ends_aloud: bool = True
    over: str = ""

    @property
    def text(self) -> str:
        """What is said after the tone."""
        told = " ".join(filter(None, (self.thing, self.state)))
        return f"{self.grade.word.capitalize()}. {told[0].upper()}{told[1:]}. {_sentence(self.do)}"


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:] + ("" if text[-1] in ".?!" else ".")


D, W, C = Grade.DANGER, Grade.WARNING, Grade.CAUTION
_NEVER = "never"

RULES: tuple[Rule, ...] = (
    # --- danger
    Rule(
        name="water out of sight", kind="level", grade=D, group="water low",
        condition="no water in sight, with fire or steam",
        action="stop the heat, no cold water, keep people away; the engine's own instructions",
        consequence="bare plates weaken and may burst",
        causes="feed failed, leak, blow-down open, glass cock shut, reading forgotten",
        respond_within_s=60, detected_by="the glass, called", suppression=_NEVER,
        thing="no water", state="in sight", do="stop the heat",
        raised=water.no_water_in_sight, normal=water.low_water_over, reads="water",
        over="water in sight again",
    ),
    Rule(
        name="low water", kind="level", grade=D, group="water low",
        condition="water at or below the lower mark, with fire or steam",
        action="stop the heat, no cold water while the level is unknown, keep people away",
        consequence="plates run bare, weaken and may burst",
        causes="feed failed, leak, blow-down open, water carried over, reading forgotten",
        respond_within_s=60, detected_by="the glass, called", suppression=_NEVER,
        thing="water", state="low", do="stop the heat",
        raised=water.low_water, normal=water.low_water_over, reads="water",
        over="water above the mark again",
    ),
    Rule(
        name="over-pressure", kind="level", grade=D, group="pressure high",
        condition="gauge three per cent above the lift with no valve lifting, or six with one",
        action="stop the heat, keep people away, leave the valve alone",
        consequence="the shell is strained beyond what it was tested for",
        causes="valve stuck or set wrong, gauge wrong, fire too strong",
        respond_within_s=60, detected_by="the gauge and the valve, called", suppression=_NEVER,
        thing="pressure", state="above the lift", do="stop the heat",
        raised=pressure.over_pressure, normal=pressure.under_the_lift, reads="pressure",
        over="pressure under the lift again",
    ),
    Rule(
        name="steam escaping", kind="spoken", grade=D, group="steam escaping",
        condition="somebody calls it", action="stand clear, stop the heat if it is safe",
        consequence="scalds, loss of water", causes="joint, pipe, plug or tube failed",
        respond_within_s=10, detected_by="a call", suppression=_NEVER,
        thing="steam", state="escaping", do="stand clear",
        raised=other.emergency_called("steam escaping"), normal=other.call_over("steam escaping"),
        ends_aloud=False,
    ),
    Rule(
        name="glass broken", kind="spoken", grade=D, group="glass broken",
        condition="somebody calls it", action="face away, shut both glass cocks",
        consequence="scalds, and the level is unknown", causes="age, knock, tight packing",
        respond_within_s=10, detected_by="a call", suppression=_NEVER,
        thing="glass", state="broken", do="face away",
        raised=other.emergency_called("glass broken"), normal=other.call_over("glass broken"),
        ends_aloud=False,
    ),
    Rule(
        name="someone hurt", kind="spoken", grade=D, group="someone hurt",
        condition="somebody calls it", action="stop the engine, call for help",
        consequence="a second injury, or one not treated", causes="motion, heat, steam, a fall",
        respond_within_s=10, detected_by="a call", suppression=_NEVER,
        thing="someone", state="hurt", do="regulator shut, call help",
        raised=other.emergency_called("someone hurt"), normal=other.call_over("someone hurt"),
        ends_aloud=False,
    ),
    Rule(
        name="fire outside", kind="spoken", grade=D, group="fire outside",
        condition="somebody calls it", action="everybody back, call for help",
        consequence="burns, the fire spreads", causes="lighting fluid, hot ash, oil",
        respond_within_s=10, detected_by="a call", suppression=_NEVER,
        thing="fire", state="outside", do="everybody back",
        raised=other.emergency_called("fire outside"), normal=other.call_over("fire outside"),
        ends_aloud=False,
    ),
    # --- warning
    Rule(
        name="microphone lost", kind="device", grade=W, group="hearing",
        condition="no sound frames come from the microphone",
        action="look at plug and switch, go on by the gauges",
        consequence="readings and calls are not heard", causes="cable, battery, other program",
        respond_within_s=120, detected_by="the watch on sound frames", suppression="typed sessions",
        thing="I cannot", state="hear you", do="check the microphone",
        raised=other.device_lost("microphone"), normal=other.is_device_back("microphone"),
        ends_aloud=False,
    ),
    Rule(
        name="speaker lost", kind="device", grade=W, group="speaking",
        condition="sentences cannot be played", action="watch the screen, look at the plug",
        consequence="warnings are not heard", causes="cable, battery, other program",
        respond_within_s=120, detected_by="a sentence that failed", suppression="typed sessions",
        thing="speaker", state="lost", do="watch the screen",
        raised=other.device_lost("speaker"), normal=other.is_device_back("speaker"),
        ends_aloud=False,
    ),
    Rule(
        name="tank empty", kind="level", grade=W, group="water low",
        condition="tank at a twentieth or less", action="fill the tank, or use other water",
        consequence="the pump draws air, then the water falls", causes="not filled, leak",
        respond_within_s=300, detected_by="the tank, called", suppression="none",
        thing="tank", state="empty", do="fill it now",
        raised=water.tank_empty, normal=water.tank_filled, reads="tank",
        over="tank filled again",
    ),
    Rule(
        name="water falling with feed on", kind="rate", grade=W, group="water low",
        condition="a glass reading two hundredths lower, with the feed on for a minute or more",
        action="look at bypass, tank and pump; use the other feed",
        consequence="low water", causes="bypass open, ball stuck, prime lost, tank empty, leak",
        respond_within_s=180, detected_by="two glass readings and the feed, called",
        suppression="valve blown or regulator opened since the reading before",
        thing="water", state="falling, feed on", do="check the feed",
        raised=water.falling_with_feed, normal=water.rising_or_unfed, reads="water",
        over="water no longer falls with feed on",
    ),
    Rule(
        name="water perhaps low", kind="level", grade=W, group="water low",
        condition="believed at the lower mark since the last reading",
        action="read the glass and call it", consequence="low water",
        causes="steam used, feed stopped, reading old",
        respond_within_s=60, detected_by="the belief about the boiler", suppression="none",
        thing="water", state="perhaps low", do="look now",
        raised=water.perhaps_low, normal=water.not_low_by_belief, reads="water", readings=1,
        over="water known again",
    ),
    Rule(
        name="glass motionless", kind="rate", grade=W, group="water low",
        condition="in steam, the glass should have moved by more than an eighth and did not",
        action="blow the glass through and read it again",
        consequence="a false level is believed", causes="cock shut, passage choked, no feed",
        respond_within_s=180, detected_by="two glass readings and the belief", suppression="none",
        thing="glass", state="not moving", do="blow it through",
        raised=water.motionless, normal=water.moving, reads="water",
        over="glass moves again",
    ),
    Rule(
        name="glass full", kind="level", grade=W, group="water high",
        condition="the surface is at the very top, with fire or steam",
        action="stop feeding, keep the regulator shut, let the level come down",
        consequence="water is carried into the cylinder",
        causes="over-fed, expansion, steam cock shut",
        respond_within_s=180, detected_by="the glass, called", suppression="none",
        thing="glass", state="full", do="stop feeding",
        raised=water.glass_full, normal=water.glass_not_full, reads="water",
        over="glass no longer full",
    ),
    Rule(
        name="water reading overdue", kind="overdue", grade=W, group="hearing",
        condition="no water reading for longer than the interval, five minutes by default",
        action="read the glass and call it", consequence="low water goes unseen",
        causes="busy, gone, not heard",
        respond_within_s=60, detected_by="the clock", suppression="before steam is raised",
        thing="water reading", state="overdue", do="where is the water?",
        raised=other.water_overdue, normal=other.not_overdue(other.water_overdue),
        by_time=other.water_due, ends_aloud=False,
    ),
    Rule(
        name="pressure above working", kind="rate", grade=W, group="pressure high",
        condition="above working pressure and rising by a fiftieth of it, damper open",
        action="shut the damper, blower off, feed if there is room",
        consequence="the valve lifts, or has to save the day", causes="fire too strong",
        respond_within_s=180, detected_by="two gauge readings and the damper, called",
        suppression="damper shut, cracked or half; leapt there from below 0.85, under the lift",
        thing="pressure", state="high and rising", do="shut the damper",
        raised=pressure.high_and_rising, normal=pressure.not_high, reads="pressure",
        ends_aloud=False,
    ),
    Rule(
        name="gauge and valve disagree", kind="disagreement", grade=W, group="pressure high",
        condition="the valve moves more than six per cent outside its own figures by the gauge",
        action="stop and settle which is wrong", consequence="pressure is not known",
        causes="gauge wrong or its cock shut, valve set wrong or worn",
        respond_within_s=300, detected_by="the gauge and the valve, called", suppression="none",
        thing="gauge and valve", state="disagree", do="stop and settle",
        raised=pressure.disagree, normal=pressure.valve_quiet,
        over="gauge and valve no longer disagree",
    ),
    # --- caution
    Rule(
        name="water near the upper mark", kind="level", grade=C, group="water high",
        condition="within two hundredths of the upper mark, or above",
        action="stop feeding, bypass open", consequence="water is carried over",
        causes="over-fed, expansion",
        respond_within_s=600, detected_by="the glass, called", suppression="no fire; putting away",
        thing="water near", state="upper mark", do="no feed",
        raised=water.near_upper, normal=water.under_upper, reads="water",
    ),
    Rule(
        name="water near the lower mark", kind="level", grade=C, group="water low",
        condition="an eighth above the lower mark or less, falling, no feed on",
        action="feed now, in good time", consequence="low water",
        causes="steam used, valve blowing, no feed, leak",
        respond_within_s=300, detected_by="two glass readings, called",
        suppression="feed on; no fire",
        thing="water", state="near lower mark", do="feed now",
        raised=water.near_lower, normal=water.over_lower, reads="water", readings=1,
    ),
    Rule(
        name="rising too fast", kind="rate", grade=C, group="pressure high",
        condition="faster than the owner's limit, below half pressure",
        action="ease damper and blower", consequence="seams and tubes are strained",
        causes="too much fire too soon",
        respond_within_s=600, detected_by="two gauge readings",
        suppression="above half pressure; no limit in the engine file",
        thing="pressure", state="rising fast", do="ease the fire",
        raised=pressure.too_fast, normal=pressure.slow_enough, reads="pressure",
    ),
    Rule(
        name="forecast far from plan", kind="disagreement", grade=C, group="plan",
        condition="working pressure expected fifteen minutes or more off the plan",
        action="ask for the reason; change fire or plan", consequence="late, or hurried",
        causes="fire slow or fast, wet fuel, wind, leak",
        respond_within_s=1200, detected_by="the forecast", suppression="no plan made",
        thing="forecast", state="far from plan", do="ask me why",
        raised=other.far_from_plan, normal=other.near_plan,
    ),
    Rule(
        name="pressure falling", kind="rate", grade=C, group="fire",
        condition="falling while steam is raised, and neither coal nor feed explains it",
        action="look at the fire, then at where steam goes", consequence="the fire goes out",
        causes="fire dying, thick coal, leak, blower too far",
        respond_within_s=600, detected_by="two gauge readings",
        suppression="eight minutes after coal, four after feed, damper shut",
        thing="pressure", state="falling", do="look at the fire",
        raised=pressure.falling, normal=pressure.not_falling, reads="pressure",
    ),
    Rule(
        name="blower left on", kind="disagreement", grade=C, group="pressure high",
        condition="working pressure with the blower half open or more, near it a reading before",
        action="shut the blower", consequence="pressure runs on up, steam is wasted",
        causes="forgotten",
        respond_within_s=300, detected_by="the gauge and the blower, called", suppression="none",
        thing="blower", state="still on", do="shut it",
        raised=pressure.blower_left_on, normal=pressure.blower_off,
    ),
    Rule(
        name="gauge not moving", kind="rate", grade=C, group="gauge",
        condition="fire long lit or steam seen, and the gauge has not moved",
        action="see that the gauge cock is open; look at the fire",
        consequence="pressure comes unseen", causes="gauge cock shut, fire dead, air cock open",
        respond_within_s=600, detected_by="the gauge, called, and the forecast", suppression="none",
        thing="gauge", state="not moved yet", do="gauge cock open?",
        raised=pressure.gauge_dead, normal=pressure.gauge_moved,
        by_time=pressure.gauge_due, reads="pressure", readings=1,
    ),
    Rule(
        name="pressure reading overdue", kind="overdue", grade=C, group="hearing",
        condition="no pressure reading for two intervals",
        action="read the gauge and call it", consequence="the forecast drifts",
        causes="busy, gone, not heard",
        respond_within_s=300, detected_by="the clock", suppression="before steam is raised",
        thing="pressure reading", state="overdue", do="what does it show?",
        raised=other.pressure_overdue, normal=other.not_overdue(other.pressure_overdue),
        by_time=other.pressure_due, ends_aloud=False,
    ),
    Rule(
        name="step left open", kind="disagreement", grade=C, group="steps",
        condition="a step was left open aloud", action="do it before the gate, or say why not",
        consequence="forgotten when it matters", causes="skipped",
        respond_within_s=1800, detected_by="the checklist", suppression="none",
        thing="a step", state="stays open", do="I ask again",
        raised=other.left_open, normal=other.nothing_open,
    ),
)  # fmt: skip

BY_NAME: dict[str, Rule] = {rule.name: rule for rule in RULES}
