"""The rows of the alarm table for the gauge against the valve, and for a pressure that falls. Only
the table."""

from __future__ import annotations

from assistant.alarms import fire_rules as fire
from assistant.alarms import gauge_valve_rules as settle
from assistant.alarms.condition import no_longer
from assistant.alarms.rule import Rule
from assistant.messages import Grade

D, W, C = Grade.DANGER, Grade.WARNING, Grade.CAUTION
NEVER = "never"

GAUGE_AND_FALL: tuple[Rule, ...] = (
    Rule(
        name="valve over a dead gauge", kind="disagreement", grade=D, group="gauge",
        when="the valve moves and the gauge was called at rest, lately under half its figure, or"
        " just then under three quarters of it",
        action="stop the heat, believe the valve, look at the gauge cock",
        consequence="pressure is not known and may go on rising",
        causes="gauge cock shut, gauge or its pipe stopped, valve set far too low",
        respond_within_s=60, detected_by="the gauge and the valve, called", suppression=NEVER,
        subject="valve lifts,", state="gauge low", act="stop the heat",
        condition=settle.over_a_dead_gauge, normal=no_longer(settle.over_a_dead_gauge),
        announces_end=False,
    ),
    Rule(
        name="valve over an unread gauge", kind="overdue", grade=D, group="gauge",
        when="the valve moves, and two minutes later the gauge is not called",
        action="stop the heat, read the gauge", consequence="pressure is not known",
        causes="not looked at, nobody there, gauge not to be read",
        respond_within_s=60, detected_by="the valve, called, and the time", suppression=NEVER,
        subject="valve moved,", state="gauge unread", act="stop the heat",
        condition=settle.unread_long, normal=settle.read_or_acted,
        deadline=settle.unread_long_due, announces_end=False,
    ),
    Rule(
        name="gauge and valve disagree", kind="disagreement", grade=W, group="gauge",
        when="the valve moves, and the gauge was called between 0.75 and 0.9 of its figure",
        action="stop the heat, settle which is wrong", consequence="pressure is not known",
        causes="gauge wrong or its cock shut, valve set wrong or worn",
        respond_within_s=120, detected_by="the gauge and the valve, called",
        suppression="a named person has said today at what the valve is set",
        subject="gauge and valve", state="disagree", act="stop the heat",
        condition=settle.disagree, normal=no_longer(settle.disagree), announces_end=False,
    ),
    Rule(
        name="gauge and valve unsettled", kind="disagreement", grade=W, group="gauge",
        when="gauge and valve differed, and have not agreed since; the heat is stopped",
        action="look at the gauge cock, prove the gauge", consequence="pressure is not known",
        causes="gauge wrong or its cock shut, valve set wrong or worn",
        respond_within_s=600, detected_by="the gauge and the valve, called",
        suppression="behind the danger or warning that they differ",
        subject="gauge not proved", state="", act="gauge cock open?",
        condition=settle.unsettled, normal=no_longer(settle.unsettled),
        end_text="gauge fits the valve",
    ),
    Rule(
        name="fire not out", kind="disagreement", grade=W, group="fire",
        when="the pressure rises by more than is left in the metal, the fire told to be out",
        action="look into the firebox; draw what burns, or take the boiler as fired",
        consequence="she is left as dead, and is not", causes="embers, a fire under the ash,"
        " another's fire", respond_within_s=300, detected_by="the fire and the gauge, called",
        suppression="none", subject="pressure rises", state="", act="see to the fire",
        condition=fire.not_out, normal=no_longer(fire.not_out), announces_end=False,
    ),
    Rule(
        name="gauge told wrong", kind="disagreement", grade=W, group="gauge",
        when="the gauge is told to be wrong or stuck over heat, until it is told right, or is read"
        " where the valve moves",
        action="no firing, damper and blower shut; stay with the valve until the gauge is proved",
        consequence="pressure rises unseen, up to the valve",
        causes="needle stuck, cock or siphon stopped, a knock", respond_within_s=120,
        detected_by="the gauge, called", suppression="while gauge and valve differ, or it is found"
        " to stand still: those rows speak",
        subject="gauge told wrong", state="", act="damper and blower shut", reported=True,
        condition=settle.told_wrong, normal=no_longer(settle.told_wrong), announces_end=False,
    ),
    Rule(
        name="gauge stands still", kind="rate", grade=W, group="gauge still",
        when="three calls of one figure, or two ten minutes apart, while by belief it should have"
        " risen by two calling steps at the least; of an untold draught three over twenty minutes",
        action="tap the gauge, see that its cock is open; tell no time by it",
        consequence="pressure rises unseen, up to the valve",
        causes="gauge cock or siphon stopped, needle stuck, heat that goes elsewhere",
        respond_within_s=150, detected_by="the gauge, called, and the belief",
        suppression="fire not bright, fresh coal, damper or blower told shut, regulator"
        " open, feed on, valve moving or near it",
        subject="gauge not moving", state="", act="tap it. Cock open?",
        condition=settle.stands_still, normal=no_longer(settle.stands_still),
        announces_end=False,
    ),
    Rule(
        name="valve lifts early", kind="disagreement", grade=C, group="valve early",
        when="the valve moves, and the gauge called within a minute is under 0.93 of its figure",
        action="look which is wrong; have both tried before she is used again",
        consequence="the true pressure is not known, or the valve wears itself out",
        causes="valve set light or worn, gauge reading low",
        respond_within_s=600, detected_by="the gauge and the valve, called",
        suppression="a named person has said at what the valve is set",
        subject="valve moves early", state="", act="gauge low, or valve light?",
        condition=settle.lifts_early, normal=no_longer(settle.lifts_early), announces_end=False,
    ),
    Rule(
        name="valve does not reseat", kind="disagreement", grade=W, group="valve blows",
        when="the valve lifted near its figure, was not told to be shut, and the gauge is called"
        " more than 12 % under its lift",
        action="watch the glass, feed if there is room; leave the valve alone",
        consequence="water goes with the steam, the plates run bare",
        causes="dirt on the seat, spring or spindle worn; shut again and not told",
        respond_within_s=120, detected_by="the gauge and the valve, called",
        suppression="told to lift over ten minutes before; gauge and valve differ; valve stuck",
        subject="valve does not reseat", state="", act="watch the glass",
        more="Water goes with the steam.",
        condition=settle.does_not_reseat, normal=no_longer(settle.does_not_reseat),
        announces_end=False,
    ),
    Rule(
        name="gauge not read at the valve", kind="overdue", grade=W, group="gauge",
        when="the valve moves, and a minute later the gauge is not called",
        action="read the gauge", consequence="nobody knows whether gauge and valve agree",
        causes="not looked at", respond_within_s=60,
        detected_by="the valve, called, and the time", suppression="none",
        subject="valve moved", state="", act="what does gauge show?",
        condition=settle.unread, normal=settle.read,
        deadline=settle.unread_due, announces_end=False,
    ),
    Rule(
        name="pressure lost", kind="rate", grade=W, group="pressure lost",
        when="two fifths of the pressure gone between two calls near each other",
        action="stand clear, look what blows", consequence="steam escapes, people are scalded",
        causes="pipe, joint or plug gone, gauge stopped",
        respond_within_s=30, detected_by="two gauge readings", suppression="none",
        subject="pressure gone", state="", act="stand clear, look round",
        condition=fire.lost, normal=no_longer(fire.lost), gauge="pressure", readings=1,
        announces_end=False,
    ),
    Rule(
        name="pressure falling", kind="rate", grade=C, group="fire",
        when="falling with a fire in, and nothing that was reported explains it",
        action="blower on, look at the fire, then for leaks", consequence="the fire goes out",
        causes="fire dying, thick coal, leak, blower too far",
        respond_within_s=600, detected_by="two gauge readings",
        suppression="eight minutes after coal, four after feed; steam drawn or blowing off;"
        " fire out or banked, damper shut; glass unproved or flat, level doubted or at the mark,"
        " not to be steamed",
        subject="pressure", state="falling", act="blower on, then look",
        condition=fire.falling, normal=fire.not_falling, gauge="pressure",
    ),
)  # fmt: skip
