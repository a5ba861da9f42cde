"""The rows of the alarm table for pressure by itself, and a valve or gauge that is silent. Only
the table."""

from __future__ import annotations

from assistant.alarms import pressure_rules as pressure
from assistant.alarms.condition import no_longer
from assistant.alarms.rule import Rule
from assistant.messages import Grade

D, W, C = Grade.DANGER, Grade.WARNING, Grade.CAUTION
NEVER = "never"

PRESSURE: tuple[Rule, ...] = (
    Rule(
        name="over-pressure", kind="level", grade=D, group="pressure high",
        when="gauge three per cent above the lift with no valve lifting, six with one; at once over"
        " the lift where the valve was asked for and does not lift, or is not told of for 120 s",
        action="stop the heat, keep people away, leave the valve alone",
        consequence="the shell is strained beyond what it was tested for",
        causes="valve stuck or set wrong, gauge wrong, fire too strong",
        respond_within_s=60, detected_by="the gauge and the valve, called", suppression=NEVER,
        subject="pressure", state="above the lift", act="stop the heat",
        condition=pressure.over_pressure, normal=pressure.under_the_lift, gauge="pressure",
        deadline=pressure.over_pressure_at, replaced=pressure.valve_answers,
        one_is_enough=pressure.never_far_over,
        once_more="call the gauge once more in a minute. Until then no heat",
        end_text="pressure under the lift again",
    ),
    Rule(
        name="pressure above working", kind="rate", grade=W, group="pressure high",
        when="above the wanted pressure and rising by a fiftieth of it, damper open",
        action="shut the damper, blower to a crack, feed if there is room",
        consequence="the valve lifts, or has to save the day", causes="fire too strong",
        respond_within_s=180, detected_by="two gauge readings and the damper, called",
        suppression="damper shut, cracked or half; leapt there from below 0.85, under the lift",
        subject="pressure", state="high", act="damper shut, blower down",
        condition=pressure.high_and_rising, normal=pressure.not_high, gauge="pressure",
        announces_end=False,
    ),
    Rule(
        name="lifts with the damper shut", kind="disagreement", grade=W, group="pressure high",
        when="the valve lifts twice within five minutes, the damper shut four minutes before",
        action="look at the damper itself, not at its rod; firehole doors; feed if there is room",
        consequence="the valve blows the water away",
        causes="damper stuck or off its rod, ashpan door open, fire too strong",
        respond_within_s=180, detected_by="the valve and the damper, called",
        suppression="blower half open or more",
        subject="valve lifts, damper shut", state="", act="damper stuck?",
        condition=pressure.lifts_with_damper_shut,
        normal=no_longer(pressure.lifts_with_damper_shut), announces_end=False,
    ),
    Rule(
        name="pressure perhaps high", kind="level", grade=W, group="pressure high",
        when="a gauge at the valve's figure is heard, no fire explains it, none called since",
        action="read the gauge and call it; no firing until then",
        consequence="pressure runs on up, unknown", causes="misheard, misread, or so",
        respond_within_s=30, detected_by="the gauge, heard and doubted", suppression="none",
        subject="pressure", state="perhaps high", act="read the gauge now",
        more="No firing till it is called.",
        condition=pressure.told_high, normal=no_longer(pressure.told_high), announces_end=False,
    ),
    Rule(
        name="valve silent", kind="level", grade=W, group="valve silent",
        when="three per cent over the valve's figure, and it was not told to move since then",
        action="look at the valve; damper shut, blower to a crack",
        consequence="the only limit of the pressure is not known to work",
        causes="not looked at, valve stuck or set high, gauge wrong",
        respond_within_s=120, detected_by="the gauge and the valve, called",
        suppression="gauge and valve have agreed in this run",
        subject="valve should move by now", state="", act="does it?",
        condition=pressure.valve_silent, normal=pressure.valve_speaks_or_lower,
        announces_end=False,
    ),
    Rule(
        name="rising too fast", kind="rate", grade=C, group="pressure high",
        when="faster than the owner's limit, below half pressure",
        action="damper nearly shut, blower to a crack", consequence="seams and tubes are strained",
        causes="too much fire too soon",
        respond_within_s=600, detected_by="two gauge readings",
        suppression="above half pressure; no limit in the engine file",
        subject="pressure", state="rising fast", act="damper nearly shut",
        condition=pressure.too_fast, normal=no_longer(pressure.too_fast), gauge="pressure",
    ),
    Rule(
        name="blower left on", kind="disagreement", grade=C, group="pressure high",
        when="wanted pressure with the blower half open or more, near it a reading before",
        action="blower down to a crack", consequence="pressure runs on up, steam is wasted",
        causes="forgotten",
        respond_within_s=300, detected_by="the gauge and the blower, called", suppression="none",
        subject="blower", state="still on", act="down to a crack",
        condition=pressure.blower_left_on, normal=pressure.blower_off,
    ),
    Rule(
        name="gauge not moving", kind="rate", grade=C, group="gauge",
        when="fire long lit or steam seen, and the gauge has not moved",
        action="see that the gauge cock is open; look at the fire",
        consequence="pressure comes unseen", causes="gauge cock shut, fire dead, air cock open",
        respond_within_s=600, detected_by="the gauge, called, and the forecast", suppression="none",
        subject="gauge", state="not moved yet", act="gauge cock open?",
        condition=pressure.gauge_dead, normal=pressure.gauge_moved,
        deadline=pressure.gauge_due, gauge="pressure", readings=1,
    ),
)  # fmt: skip
