"""The rows of the alarm table for the water in the glass and in the tank. Only the table."""

from __future__ import annotations

from assistant.alarms import broken_glass_rules as broken
from assistant.alarms import unread_rules as unread
from assistant.alarms import water_rules as water
from assistant.alarms.condition import no_longer
from assistant.alarms.rule import Rule
from assistant.messages import Grade

D, W, C = Grade.DANGER, Grade.WARNING, Grade.CAUTION
NEVER = "never"

WATER: tuple[Rule, ...] = (
    Rule(
        name="low water", kind="level", grade=D, group="water low",
        when="water in sight, at or below the lower mark, with fire or steam",
        action="stop the heat; feed only if the engine's own instructions say so",
        consequence="plates run bare, weaken and may burst",
        causes="feed failed, leak, blow-down open, water carried over, reading forgotten",
        respond_within_s=60, detected_by="the glass, called", suppression=NEVER,
        subject="water", state="low", act="stop the heat",
        condition=water.low_water, normal=water.low_water_over, gauge="water",
        one_is_enough=water.proved_since_low,
        replaced=water.level_unreadable,
        once_more="call it once more in a minute. Until then no heat",
        end_text="water above the mark again",
    ),
    Rule(
        name="level not known", kind="disagreement", grade=D, group="water low",
        when="over heat, the glass failed its test twice, or was not proved after it for two"
        " intervals of the water",
        action="stop the heat; no feed until a glass is proved or the cocks tell the level",
        consequence="the plates run bare behind a glass that shows water",
        causes="a passage of the glass stopped, a cock shut",
        respond_within_s=60, detected_by="the glass, blown through and called, and the clock",
        suppression=NEVER,
        subject="level not known", state="", act="stop the heat",
        condition=unread.level_unknown, normal=no_longer(unread.level_unknown),
        deadline=unread.level_unknown_at, announces_end=False,
    ),
    Rule(
        name="level unknown", kind="disagreement", grade=D, group="water low",
        when="over heat the glass is broken, and its cocks were reported shut or two minutes went;"
        " no level called another way for two intervals of the water",
        action="damper and blower shut at once; try cocks, or let the fire die",
        consequence="the plates run bare and nobody sees it",
        causes="no other glass, try cocks not used", respond_within_s=60,
        detected_by="the glass and its cocks, called, and the clock", suppression=NEVER,
        subject="level unknown", state="", act="stop the heat. Damper shut",
        condition=broken.level_unknown, normal=no_longer(broken.level_unknown),
        deadline=broken.level_unknown_at, announces_end=False,
    ),
    Rule(
        name="tank empty", kind="level", grade=W, group="water low",
        when="tank at a twentieth or less", action="fill the tank, or use other water",
        consequence="the pump draws air, then the water falls", causes="not filled, leak",
        respond_within_s=300, detected_by="the tank, called", suppression="none",
        subject="tank", state="empty", act="fill it now",
        condition=water.tank_empty, normal=water.tank_filled, gauge="tank", readings=1,
        end_text="tank filled again",
    ),
    Rule(
        name="water falling faster than use", kind="rate", grade=W, group="leak",
        when="two falls of the glass running, or a quarter at once, by more than steam explains;"
        " or two looks by more than it can take at most; no feed on",
        action="look for a leak: blow-down, plugs, tubes, joints; read the glass often",
        consequence="low water", causes="blow-down or drain leaking, tube, joint or plug weeping",
        respond_within_s=180, detected_by="three glass readings and the belief",
        suppression="a feed on; no great fall and one that failed: those rows speak",
        subject="water falls", state="faster than use", act="find the leak",
        condition=water.lost_unexplained, normal=water.no_longer_lost, announces_end=False,
    ),
    Rule(
        name="blow-down open", kind="disagreement", grade=W, group="leak",
        when="the blow-down was told open a minute ago over a fire, and not shut since",
        action="shut it, and read the glass", consequence="the boiler empties over a fire",
        causes="left open after cleaning, opened to blow down and forgotten",
        respond_within_s=60, detected_by="the blow-down, called, and the clock",
        suppression="called stuck open: that is a danger",
        subject="blow-down", state="open", act="shut it",
        condition=water.blow_down_open, normal=no_longer(water.blow_down_open),
        deadline=water.blow_down_open_at, announces_end=False,
    ),
    Rule(
        name="water perhaps low", kind="level", grade=W, group="water low",
        when="believed at the lower mark since the last reading",
        action="read the glass and call it", consequence="low water",
        causes="steam used, feed stopped, reading old",
        respond_within_s=60, detected_by="the belief about the boiler", suppression="none",
        subject="water", state="perhaps low", act="look now",
        condition=water.perhaps_low, normal=no_longer(water.perhaps_low), gauge="water", readings=1,
        announces_end=False,
    ),
    Rule(
        name="water told low", kind="level", grade=W, group="water low",
        when="the water is told to be low or going down, in words, and no level is called since",
        action="look at the glass and call it; no firing until then", consequence="low water",
        causes="steam used, feed stopped, a leak", respond_within_s=30,
        detected_by="the glass, told without a figure", suppression="a graver row of the water",
        subject="water", state="told low", act="where is the water?",
        more="No firing till it is called.", reported=True,
        condition=water.told_low, normal=no_longer(water.told_low), announces_end=False,
    ),
    Rule(
        name="glass motionless", kind="rate", grade=W, group="glass dead",
        when="three equal readings; feed or heat should have moved them by a step and a half, or"
        " the engine at work, unfed, has taken a step at the least",
        action="blow the glass through and read it again",
        consequence="a false level is believed", causes="cock shut, passage choked, no feed",
        respond_within_s=180, detected_by="three glass readings, the feeds and the belief",
        suppression="no fire and no steam, or the fire out and the gauge at rest",
        subject="glass", state="not moving", act="blow it through",
        condition=water.flat, normal=water.not_flat, announces_end=False,
    ),
    Rule(
        name="water says steam, gauge none", kind="disagreement", grade=W, group="dead gauge",
        when="unfed, the glass rose as boiling lifts it, and three minutes later the gauge rests",
        action="look at the gauge cock; believe the water, stop the heat until they agree",
        consequence="pressure rises unseen", causes="gauge cock shut, gauge or siphon stopped",
        respond_within_s=180, detected_by="the glass and the gauge, called",
        suppression="no fire; a feed on since the fire was lit",
        subject="water says steam,", state="gauge none", act="gauge cock open?",
        condition=water.steam_unseen_by_gauge, normal=water.gauge_sees_steam,
        announces_end=False,
    ),
    Rule(
        name="glass full", kind="level", grade=W, group="water high",
        when="the surface is at the very top, with fire or steam",
        action="stop feeding, blow the glass through, keep the regulator shut",
        consequence="water is carried into the cylinder, or the plates are bare unseen",
        causes="over-fed, expansion, steam cock shut, a dead or an empty glass",
        respond_within_s=180, detected_by="the glass, called", suppression="out of sight, doubted",
        subject="glass", state="full, or empty?", act="blow through",
        condition=water.glass_full, normal=water.glass_not_full, gauge="water",
        replaced=water.no_level_is_high,
        end_text="glass no longer full",
    ),
    Rule(
        name="water near the upper mark", kind="level", grade=C, group="water high",
        when="within two hundredths of the upper mark, or above",
        action="stop feeding, bypass open", consequence="water is carried over",
        causes="over-fed, expansion",
        respond_within_s=600, detected_by="the glass, called",
        suppression="no fire; putting away; out of sight, doubted",
        subject="water near", state="upper mark", act="no feed",
        condition=water.near_upper, normal=water.under_upper, gauge="water",
        replaced=water.no_level_is_high,
    ),
    Rule(
        name="water near the lower mark", kind="level", grade=C, group="water low",
        when="in sight, an eighth above the lower mark or less, falling, no feed that gains",
        action="feed now, in good time", consequence="low water",
        causes="steam used, valve blowing, no feed, a feed that gives nothing, leak",
        respond_within_s=300, detected_by="two glass readings, called",
        suppression="a feed on that is not known to fail; no feed works; no fire and no steam",
        subject="water", state="near lower mark", act="feed now",
        condition=water.near_lower, normal=water.over_lower, gauge="water", readings=1,
        replaced=water.graver_than_near,
    ),
)  # fmt: skip
