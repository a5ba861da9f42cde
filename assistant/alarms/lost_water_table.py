"""The rows of the alarm table for water lost over heat, and for water not read. Only the table."""

from __future__ import annotations

from assistant.alarms import lost_water_rules as lost
from assistant.alarms import unread_rules as unread
from assistant.alarms.condition import no_longer
from assistant.alarms.rule import Rule
from assistant.messages import Grade

D, W = Grade.DANGER, Grade.WARNING
NEVER = "never"

LOST_WATER: tuple[Rule, ...] = (
    Rule(
        name="water out of sight", kind="level", grade=D, group="water low",
        when="no water in sight, with fire or steam",
        action="stop the heat, no feed, keep people away; the engine's own instructions",
        consequence="bare plates weaken and may burst",
        causes="feed failed, leak, blow-down open, glass cock shut, reading forgotten",
        respond_within_s=60, detected_by="the glass, called", suppression=NEVER,
        subject="no water", state="in sight", act="stop the heat", reported=True,
        condition=lost.no_water_in_sight, normal=lost.water_in_sight, gauge="water",
        replaced=lost.shows_again,
        once_more="call it once more in a minute. Until then no heat",
        end_text="water shows. Not safe yet: prove the glass",
    ),
    Rule(
        name="water doubted", kind="disagreement", grade=D, group="water low",
        when="water shows after it was out of sight over heat, the glass not blown through since, "
        "or two calls a minute apart not agreed",
        action="no heat, no feed; blow the glass through, call it twice, a minute apart",
        consequence="a false level is believed over bare plates",
        causes="swell, a passage choked, a glass that fills through the steam way",
        respond_within_s=120, detected_by="the glass, called", suppression=NEVER,
        subject="water doubted", state="", act="no heat, no feed. Blow through",
        more="Do not trust it. Then call it twice, a minute apart.",
        condition=lost.doubted, normal=lost.not_doubted, announces_end=False,
    ),
    Rule(
        name="glass stays empty", kind="disagreement", grade=D, group="water low",
        when="over heat the glass, blown through, stays empty; until it comes back and the water"
        " is called. Not where no water is in sight, it is doubted, or the glass is broken",
        action="stop the heat, no feed, touch no steam valve; find the level another way",
        consequence="the plates run bare, and the level called before is believed",
        causes="water below the glass, bottom passage stopped, bottom cock shut",
        respond_within_s=60, detected_by="the glass, blown through and called",
        suppression=NEVER,
        subject="glass empty", state="", act="stop the heat",
        more="Damper shut. No feed. Touch no steam valve.",
        condition=lost.glass_empty, normal=lost.glass_not_empty,
        replaced=lost.worse_than_empty, announces_end=False,
    ),
    Rule(
        name="feed after lost water", kind="disagreement", grade=D, group="water low",
        when="a feed is put on, or left on for a minute, after the water was lost over heat, not "
        "looked at since; or on while the glass is broken or unproved and no level read",
        action="stop the feed; somebody competent looks at the boiler",
        consequence="water on hot plates may burst them", causes="the wish to save the boiler",
        respond_within_s=30, detected_by="glass and feed, called", suppression=NEVER,
        subject="level unknown", state="", act="stop the feed", reported=True,
        condition=lost.fed_unseen, normal=no_longer(lost.fed_unseen),
        deadline=lost.feed_to_be_stopped_at, announces_end=False,
    ),
    Rule(
        name="fire after lost water", kind="disagreement", grade=D, group="water low",
        when="a fire is made after no water was in sight over heat, the boiler not looked at",
        action="let the fire die; somebody competent looks at the boiler",
        consequence="weakened plates are put under pressure", causes="water showed again",
        respond_within_s=60, detected_by="glass and fire, called", suppression=NEVER,
        subject="water was lost", state="", act="no fire, no steam", reported=True,
        condition=lost.fired_unseen, normal=no_longer(lost.fired_unseen), announces_end=False,
    ),
    Rule(
        name="fire after a failure", kind="disagreement", grade=D, group="water low",
        when="a fire is made after a plug, a tube, a leak or a valve that failed, not looked at",
        action="let the fire die; somebody competent looks at the boiler",
        consequence="what let go opens further, under pressure", causes="it was called over",
        respond_within_s=60, detected_by="what was called and the fire", suppression=NEVER,
        subject="boiler not looked at", state="", act="no fire, no steam", reported=True,
        condition=lost.fired_after_failure, normal=no_longer(lost.fired_after_failure),
        announces_end=False,
    ),
    Rule(
        name="heat in an unfit boiler", kind="disagreement", grade=D, group="water low",
        when="she is not to be steamed, and the fire is not told to be out, nor damper and blower"
        " to be shut; or the gauge shows a fire that was told to be out",
        action="damper and blower shut, let the fire die; nobody steams her until she is looked at",
        consequence="what was weakened is put under pressure",
        causes="it was called over with the fire in",
        respond_within_s=60, detected_by="what was called, fire, damper, blower and gauge",
        suppression=NEVER,
        subject="not to be steamed", state="", act="stop the heat",
        condition=lost.heated_unfit, normal=no_longer(lost.heated_unfit), announces_end=False,
    ),
    Rule(
        name="fire in, water never seen", kind="overdue", grade=D, group="water low",
        when="three minutes after a fire was reported, no water has been called",
        action="stop the heat until the water is seen", consequence="a dry boiler is heated",
        causes="lit too soon, taken over without looking",
        respond_within_s=60, detected_by="the fire, called, and the clock", suppression=NEVER,
        subject="fire in, water unseen", state="", act="stop the heat",
        condition=unread.fire_long_without_water, normal=no_longer(unread.fire_without_water),
        deadline=unread.fire_long_without_water_at, announces_end=False,
    ),
    Rule(
        name="water not read", kind="overdue", grade=D, group="water low",
        when="no water reading for two of its intervals (ten minutes with steam up by default),"
        " for one if it would be at the lower mark by now as it last fell, a minute later if a"
        " full fire could have boiled it there, or the blow-down stands open",
        action="read the glass and call it", consequence="low water goes unseen",
        causes="busy, gone, ill, not heard",
        respond_within_s=60, detected_by="the clock", suppression=NEVER,
        subject="water not read", state="", act="look at the glass",
        condition=unread.not_read, normal=no_longer(unread.not_read),
        deadline=unread.not_read_at, announces_end=False,
    ),
    Rule(
        name="glass not proved", kind="disagreement", grade=W, group="glass broken",
        when="over heat, a glass that broke or failed its test is not proved by how it returns",
        action="blow it through, each way; no feed until it is proved and the water called",
        consequence="a false level is believed",
        causes="new glass not tested, a passage stopped, a cock shut",
        respond_within_s=180, detected_by="the glass, called",
        suppression="while it is called broken, or has stayed empty",
        subject="glass not proved", state="", act="blow through, no feed",
        condition=lost.glass_unproved, normal=lost.glass_proved, announces_end=False,
    ),
    Rule(
        name="glass rises by itself", kind="disagreement", grade=W, group="glass broken",
        when="by two looks the glass has risen by more than heat lifts it, unfed, no steam drawn",
        action="look at both cocks, blow the glass through; no feed until it is called again",
        consequence="a false level is believed, and the plates run bare behind it",
        causes="top cock left shut after blowing through, steam passage stopped, a feed not told",
        respond_within_s=120, detected_by="the glass, the gauge and the feeds, called",
        suppression="a feed on or just off, regulator told, valve lifting, priming, no heat;"
        " gauge not called lately: only what the heat of the lift does not explain",
        subject="doubt the glass", state="", act="both cocks open, blow through",
        condition=lost.risen_unfed, normal=no_longer(lost.risen_unfed), announces_end=False,
    ),
    Rule(
        name="firebox weeping", kind="disagreement", grade=W, group="not to be steamed",
        when="plug, stay or tube end weeps with fire or steam, the boiler not looked at since",
        action="let the fire die, keep the water up; no steam until it is mended",
        consequence="what weeps under pressure opens at once",
        causes="plug old or crusted, tube end loose, seam strained",
        respond_within_s=120, detected_by="the firebox, called, and fire or steam",
        suppression="fire out; while what let go is called",
        subject="firebox", state="weeping", act="let the fire die", more="No steam until mended.",
        reported=True, condition=lost.weeping, normal=no_longer(lost.weeping),
        announces_end=False,
    ),
    Rule(
        name="boiler leaking", kind="disagreement", grade=W, group="not to be steamed",
        when="a mud door, washout plug or joint of the boiler leaks under steam, not looked at",
        action="let the fire die, stand clear, pressure down first; nothing is tightened under it",
        consequence="a door or plug that is tightened under pressure may let go at once",
        causes="joint not taken up, door crooked, thread worn",
        respond_within_s=120, detected_by="the boiler, called, and steam",
        suppression="fire out; while what let go is called",
        subject="boiler leaks", state="", act="let the fire die",
        more="Never tighten under pressure. Stand clear. Pressure down first.",
        reported=True, condition=lost.leaking, normal=no_longer(lost.leaking),
        announces_end=False,
    ),
    Rule(
        name="not to be steamed", kind="disagreement", grade=W, group="not to be steamed",
        when="water was lost over heat and shows again undoubted, or a plug, a tube or a leak that"
        " was called is called over, or the valve failed at its lift; not looked at since, cold",
        action="put her away: no fire, no feed; somebody competent looks at the boiler",
        consequence="weakened plates are put under pressure",
        causes="water was out of sight, a plug, tube or seam let go, no valve lifted",
        respond_within_s=300, detected_by="the glass, called, and no look since",
        suppression="while it is out of sight or doubted, what let go is called, or the pressure is"
        " over the lift",
        subject="not to be steamed", state="", act="put her away",
        condition=lost.not_to_be_steamed, normal=lost.may_be_steamed,
        replaced=lost.worse_than_not_to_be_steamed, announces_end=False,
    ),
    Rule(
        name="fire in, water not seen", kind="overdue", grade=W, group="water unread",
        when="a fire is reported and the water was never called",
        action="look at the glass before anything else", consequence="a dry boiler is heated",
        causes="lit too soon, taken over without looking",
        respond_within_s=60, detected_by="the fire, called", suppression="none",
        subject="fire in, water unseen", state="", act="where is it?",
        condition=unread.fire_without_water, normal=no_longer(unread.fire_without_water),
        announces_end=False,
    ),
    Rule(
        name="water reading overdue", kind="overdue", grade=W, group="water unread",
        when="no water reading for its interval: five minutes with steam up by default",
        action="read the glass and call it", consequence="low water goes unseen",
        causes="busy, gone, not heard",
        respond_within_s=60, detected_by="the clock", suppression="no fire and no steam",
        subject="water reading", state="overdue", act="where is the water?",
        condition=unread.overdue, normal=unread.read_again,
        deadline=unread.overdue_at, announces_end=False,
    ),
)  # fmt: skip
