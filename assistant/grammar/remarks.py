"""Remarks that a driver makes unasked: what he sees of water, valve, plug, feed, grate and damper.

States as those of `states.STATE_FORMS`, of which they are a part. Knows words only.
"""

from __future__ import annotations

FORMS: dict[tuple[str, str], tuple[str, ...]] = {
    ("watch", "kept"): (
        "watch kept", "watch is kept", "i have the watch", "all is well", "everything is fine",
        "everything is all right", "i am here", "i'm here",
        "i have got the watch", "i am back",
        "i'm back", "i am watching", "i am watching her", "i'm watching her",
    ),
    # told without a level: it is asked for at once
    ("water told", "going down"): (
        "water going down", "water is going down", "the water is going down", "water is low",
        "the water is low", "water is getting low", "very low water", "losing water",
        "we are losing water", "she is losing water", "water going down fast",
        "water is going down fast", "water is dropping", "water is falling", "water is down",
        "water low",
        "water is running out", "out of water", "we are out of water",
    ),
    ("water told", "enough"): (
        "water is good", "water is fine", "water is all right", "the water is fine",
        "the water is all right", "plenty of water", "there is plenty of water",
        "a good glass of water", "good glass of water", "water is in sight",
        "the water is in sight",
    ),
    ("water told", "coming back"): (
        "water coming back", "water is coming back", "the water is coming back",
        "water is back", "the water is back", "water is back in the glass",
        "water is rising", "the water is rising", "water is going up", "the water is going up",
    ),
    # told without a figure: it is asked for at once
    ("pressure told", "enough"): (
        "pressure is good", "pressure is fine", "pressure is all right", "plenty of steam",
        "there is plenty of steam", "plenty of pressure",
    ),
    ("pressure told", "falling"): (
        "pressure falling", "pressure is falling", "the pressure is falling",
        "pressure is dropping", "the pressure is dropping", "pressure going down",
        "pressure is going down", "the pressure is going down", "losing pressure",
        "we are losing pressure", "losing steam", "she is losing steam", "pressure is coming down",
        "steam is falling off", "pressure is falling off", "pressure is dropping back",
        "pressure is dropping off", "steam is going down", "steam is dropping",
    ),
    ("pressure told", "rising"): (
        "pressure is rising", "the pressure is rising", "pressure rising fast",
        "pressure is rising fast", "pressure is going up", "the pressure is going up",
        "pressure is coming up", "the pressure is coming up", "steam is going up",
    ),
    ("watch", "not kept"): ("nobody is on watch", "there is nobody on watch", "nobody on watch",
        "i am leaving her", "leaving her now", "i am going away", "i have to go",
        "going for lunch", "taking a break", "nobody is on her", "nobody is watching her",
        "there is nobody watching her", "i am off for a cuppa", "off for a cuppa",
        "i have got to step away", "i have to step away", "i must step away",
        "i have got to step away for a minute", "stepping away for a minute",
        "leaving the engine"),
    ("stands", "nose down"): (
        "nose down", "nose is down", "she is nose down", "standing nose down", "going down hill",
        "going down the hill",
    ),
    ("stands", "nose up"): (
        "nose up", "nose is up", "she is nose up", "standing nose up", "going up hill",
        "going up the hill",
    ),
    ("stands", "on a slope"): (
        "on a slope", "we are on a slope", "she is on a slope", "standing on a slope",
        "she leans", "leaning to the left", "leaning to the right", "she is not level",
    ),
    ("stands", "level"): (
        "level again", "we are level", "we are level now", "now we are level", "she is level",
        "she is level now", "she stands level", "standing level", "on the level",
        "on the level now", "we are on the level", "she is on the level",
    ),
    ("valve seat", "leaking"): (
        "valve is leaking", "valve leaking", "safety valve is leaking", "safety valve leaking",
        "the valve is leaking", "valve is weeping", "safety valve is weeping",
    ),
    ("injector", "fails"): (
        "injector fails", "injector failed", "injector blows back", "injector has failed",
        "injector is blowing back", "injector blew off", "injector is blowing off",
        "injector will not start", "injector does not start",
        "injector knocked off",
        "injector has knocked off", "injector has flown off", "injector flew off",
    ),
    # a plug or a tube end that drips is not yet one that has gone
    ("firebox", "weeping"): (
        "firebox weeping", "firebox is weeping", "plug is weeping", "the plug is weeping",
        "fusible plug is weeping", "lead plug is weeping", "plug is dripping",
        "the plug is dripping",
        "fusible plug is dripping", "fusible plug dripping", "plug is leaking",
        "the plug is leaking", "fusible plug is leaking", "a drop from the plug",
        "drops from the plug", "plug weeping", "lead plug weeping", "drip in the firebox",
        "tube is weeping", "a tube is weeping", "tubes are weeping", "stay is leaking",
        "a stay is leaking", "stay is weeping", "a stay is weeping",
        "foundation ring is leaking", "foundation ring is weeping", "drips in the ash pan",
        "water in the ash pan", "water is dripping in the firebox", "leaking from the plug",
        "a drip in the firebox", "there is a drip in the firebox", "water dripping on the fire",
    ),
    # a door, plug or joint of the shell
    ("boiler", "leaking"): (
        "boiler leaking", "boiler is leaking", "mud door is leaking", "mud door leaking",
        "the mud door is leaking", "a leak at the mud door", "mud door leaking worse",
        "hand hole is leaking", "hand hole leaking", "washout plug is leaking",
        "washout plug leaking", "the washout plug is leaking", "leak has got worse",
        "the leak has got worse", "leak is getting worse", "joint is leaking",
    ),
    ("joint", "tightened"): (
        "tightening the mud door", "tightening the hand hole", "tightening the washout plug",
        "tightening the joint", "tightening the nuts", "tightening it up",
        "i will tighten the mud door", "i am tightening the mud door", "tighten the mud door",
    ),
    # put in, and not proved yet
    ("glass", "new"): (
        "new glass is in", "new glass in", "the new glass is in", "new glass fitted",
        "new glass is fitted", "glass is renewed",
    ),
    # how it returns is asked for at once, and may be said in its short forms
    ("blow through", "done"): (
        "glass blown through", "the glass is blown through", "glass blown down",
        "the glass is blown down", "blew the glass down", "i blew the glass down",
        "i blew the glass",
        "i blew the glass through", "blew the glass through", "blowing the glass",
        "blowing the glass through", "blowing the glass again", "blowing it again",
        "blowing it through", "blowing it through again",
    ),
    # its water goes out that way: no leak is looked for meanwhile
    ("blow-down", "open"): (
        "blow down is open", "the blow down is open", "blow down open", "blowing down",
        "blowing down now", "we are blowing down", "opened the blow down",
        "i opened the blow down", "i have opened the blow down", "opening the blow down",
    ),
    ("brake", "not chocked"): (
        "chocks away", "the chocks are away", "chocks are away", "brake off chocks away",
    ),
    # the pump feeds on
    ("bypass fault", "jammed"): (
        "bypass is jammed", "the bypass is jammed", "bypass is stuck", "the bypass is stuck",
        "bypass will not open", "the bypass will not open", "bypass won't open",
        "bypass jammed", "cannot open the bypass", "i cannot open the bypass",
    ),
    # of the clack: what a stuck one asks for
    ("stop valve", "shut"): ("stop valve is shut", "clack stop valve is shut"),
    ("stop valve", "open"): ("stop valve is open", "clack stop valve is open"),
    ("fire bars", "dropped"): (
        "fire bar dropped", "a fire bar has dropped", "fire bar has dropped", "a bar has dropped",
        "a bar has fallen out", "a bar has gone", "grate has collapsed",
        "fire bars have burned through",
        "hole in the grate", "there is a hole in the grate",
    ),
    ("damper fault", "stuck"): (
        "damper is stuck", "the damper is stuck", "damper will not shut", "damper won't shut",
        "damper will not close", "i cannot shut the damper", "i can't shut the damper",
        "cannot shut the damper", "damper stuck open", "damper is stuck open",
        "damper chain has broken", "damper rope has broken",
    ),
    ("engine", "stopped"): (
        "engine has stopped", "she has stopped", "she has stopped now", "she is stopped",
        "the engine has stopped", "we have stopped",
        "engine is standing still", "she is standing still", "engine stands still",
        "she stands still",
    ),
    # with fire or steam in her it is the danger of that name
    ("safety valve", "stuck"): (
        "safety valve stuck", "safety valve is screwed down", "the safety valve is screwed down",
        "safety valve screwed down", "valve is screwed down", "the valve is screwed down",
        "safety valve is wired down", "safety valve is tied down", "safety valve is weighted down",
        "somebody has screwed the valve down",
    ),
    # what drives off the belt or the governor belt races without it
    ("belt", "off"): (
        "belt has come off", "the belt has come off", "belt came off", "belt is off",
        "the belt is off", "lost the belt", "belt has broken", "the belt has broken",
        "governor belt is off",
        "governor belt has come off",
        "the governor belt is off",
    ),
    ("coal", "used up"): (
        "out of coal", "we are out of coal", "no coal left", "coal has run out",
        "coal is used up", "the coal is used up", "there is no more coal",
    ),
    ("gland", "blowing"): (
        "gland is blowing", "the gland is blowing", "gland is leaking", "the gland is leaking",
        "piston gland is blowing", "a gland is blowing", "packing is blowing",
    ),
    ("fluid", "on the fire"): (
        "fluid on the fire", "lighting fluid on the fire", "paraffin on the fire",
        "diesel on the fire", "petrol on the fire", "gasoline on the fire",
        "i threw paraffin on it", "somebody threw paraffin on the fire",
    ),
    ("blower fault", "stuck"): (
        "blower is stuck", "the blower is stuck", "blower is stuck open", "blower stuck open",
        "blower will not shut", "blower won't shut", "the blower will not shut",
        "the blower won't shut", "i cannot shut the blower", "i can't shut the blower",
        "cannot shut the blower", "blower is jammed", "the blower is jammed",
        "blower valve is stuck", "cannot turn the blower off", "i cannot turn the blower off",
    ),
    ("reverser", "mid gear"): (
        "reverser is in mid gear", "reverser in mid gear", "she is in mid gear",
        "lever is in mid gear", "mid gear now",
    ),
    ("firehole", "shut"): (
        "firehole door shut", "firehole door is shut", "the firehole door is shut",
        "fire door is shut", "fire door shut", "the fire door is shut",
    ),
    ("firehole", "open"): (
        "firehole door open", "firehole door is open", "the firehole door is open",
        "fire door is open", "fire door open", "the fire door is open",
    ),
    ("flames", "drawn in"): (
        "flames are drawn in", "flames draw in", "flames drawing in", "flames have gone back",
        "flames are back in", "no more flames", "fire is drawing in again",
    ),
    ("vent", "blows air"): (
        "vent blows air", "still air", "only air", "just air", "only air from the top cock",
    ),
    ("vent", "blows steam"): (
        "vent blows steam", "steam is coming", "real steam", "steam is showing",
        "white steam now", "steam from the top cock",
    ),
}  # fmt: skip
# Accepted even while yes or no is expected.
AT_ANY_TIME = frozenset(
    {"firebox", "joint", "water told", "pressure told", "stands", "engine", "fluid", "flames"}
)
# Answers where a step asks them (a pipe felt, a jet being started), else reports of the feed.
HOT_PIPE = (
    "pipe is hot", "delivery pipe is hot", "feed pipe is hot", "feed line is hot",
    "pump pipe is hot", "the pump pipe is hot",
)  # fmt: skip
# Run down where a fire is let die, else a fire in trouble.
LOW_FIRE = (
    "fire is dying", "fire is dying down", "fire is going down", "fire is burning down",
    "fire is low", "fire is getting low",
    "fire is nearly out", "fire is dull", "fire has gone dull",
)  # fmt: skip
OVERFLOWS = (
    "overflow is running", "the overflow is running", "injector overflow is running",
    "water runs from the overflow",
)  # fmt: skip
