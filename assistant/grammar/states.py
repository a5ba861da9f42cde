"""The words in which things done or seen are reported: fire, blower, damper, feed and the rest.

Knows no number. The first form of each is the one that the assistant says. "Off" and "on" differ by
a vowel and steam masks the first sound of a sentence, hence "finished feeding" and "the blower is
shut". "Injector on / off", a bare "a half" and a short "coal on" are confused in noise: typed only.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.grammar import hurt, remarks
from assistant.grammar.numbers import Words
from assistant.messages import COAL_PUT_ON, READINGS, WATER_PUT_IN, Report

# Subjects of reports that call something up instead of stating how a thing is.
CALL_SUBJECTS = frozenset({"cure", "move", "emergency"})

STATE_FORMS: dict[tuple[str, str], tuple[str, ...]] = {
    ("fire", "lit"): ("fire is lit", "fire lit", "the fire is lit", "fire alight"),
    ("fire", "built"): (
        "fire built up", "fire is built up", "fire is built", "fire built", "fire made up",
    ),
    ("fire", "coal"): (
        "more coal on the fire", "put some coal on", "added some coal", "coal on the fire",
        "firing coal now", "i have put coal on", "i have put some coal on", "put coal on",
        "i put some coal on", "i have just fired", "just fired",
    ),
    ("fire", "banked"): (
        "the fire is banked up", "the fire is banked", "fire banked", "fire is banked",
        "fire banked up", "banked the fire", "i have banked the fire",
    ),
    ("fire", "drawn"): (
        "the fire is dropped", "the fire is drawn", "fire drawn", "fire is drawn", "fire dropped",
        "fire is out", "dropped the fire", "the fire is out",
    ),
    ("blower", "shut"): ("the blower is shut", "blower shut", "blower is shut", "blower closed"),
    ("blower", "crack"): (
        "blower just cracked", "blower cracked", "blower cracked open", "blower is cracked open",
    ),
    ("blower", "half"): ("blower half open", "blower is half open", "blower halfway"),
    ("blower", "open"): (
        "blower wide open", "blower open", "blower full open", "blower fully open",
        "blower is open",
    ),
    ("damper", "shut"): (
        "damper shut", "damper is shut", "damper closed", "draft door shut", "draft door is shut",
    ),
    ("damper", "crack"): (
        "damper just cracked", "damper cracked", "damper cracked open", "damper is cracked open",
        "draft door cracked",
    ),
    ("damper", "half"): (
        "the damper is half open", "damper half open", "damper is half open", "damper halfway",
        "draft door half open",
    ),
    ("damper", "open"): (
        "damper wide open", "damper open", "damper full open", "damper fully open",
        "draft door open", "draft door is open",
        "damper is open",
    ),
    ("regulator", "shut"): ("regulator shut", "regulator is shut", "regulator closed"),
    ("regulator", "open"): ("regulator open", "regulator is open", "regulator eased open"),
    ("drains", "shut"): (
        "drain cocks shut", "drains shut", "drains are shut", "drains closed", "drain cocks closed",
        "cylinder cocks shut", "cylinder cocks closed",
    ),
    ("drains", "open"): (
        "drain cocks open", "drains open", "drains are open", "cylinder cocks open",
    ),
    ("feed", "on"): (
        "the feed is running", "feed is running", "feeding now", "feed running", "feed is on",
        "pump is feeding",
        "injector running", "injector is running", "injector feeding",
        "hand pump is going", "working the hand pump",
    ),
    ("feed", "off"): (
        "finished feeding", "feed is stopped", "feed stopped", "feed has stopped",
        "injector stopped", "injector is stopped", "pump has stopped",
    ),
    ("feeds", "none works"): (
        "no feed works", "no feed at all", "no feed is working", "none of the feeds work",
        "both injectors have failed", "neither feed works", "neither injector works",
        "cannot get any water in", "i cannot get any water in", "can't get any water in",
        "i can't get any water in", "not getting any water in", "no water going in",
        "no water is going in", "water is not going in",
    ),
    ("valve", "shut"): (
        "safety valve shut", "valve shut", "valve is shut", "safety valve is shut",
        "valve has seated", "safety valve has seated", "valve closed", "valve is quiet",
        "valve is not lifting", "safety valve is not lifting", "valve has not lifted",
        "safety valve has not lifted", "valve not lifting", "valve is not moving",
        "valve has stopped lifting", "valve stopped lifting", "valve has sat down",
        "valve sat down",
        "valve is not feathering", "valve does not move",
    ),
    ("valve", "feathering"): (
        "safety valve feathering", "valve feathering", "valve is feathering",
        "safety valve is feathering", "valve is simmering", "safety valve is simmering",
        "valve simmering", "valve is sizzling", "safety valve is sizzling", "just feathering",
        "she is feathering",
    ),
    ("valve", "lifting"): (
        "safety valve lifting", "valve lifting", "valve is lifting", "safety valve is lifting",
        "valve has lifted", "safety valve has lifted", "valve lifted", "valve is blowing",
        "valve lifts early", "valve is lifting early", "the valve lifts early",
        "pop valve has lifted", "pop valve is lifting", "safety valve is popping off",
        "popping off", "she is popping off", "blowing off", "she is blowing off",
        "safety valve is blowing off", "safety valve is blowing", "safeties are lifting",
        "safeties are blowing", "she is lifting", "she has popped", "the pops are going",
        # one that does not seat lifts still
        "valve will not shut", "valve won't shut", "safety valve will not shut",
        "safety valve won't shut", "valve will not reseat", "valve won't reseat",
        "safety valve will not reseat", "safety valve won't reseat", "valve will not seat",
        "valve won't seat", "valve has not shut", "valve has not seated", "valve stuck open",
        "valve is stuck open", "safety valve stuck open", "safety valve is stuck open",
        "valve still blowing", "valve is still blowing", "valve still lifting",
        "valve is still lifting", "safety valve is still blowing",
    ),
    # the watch goes to somebody who is named next
    ("on watch", "not named"): (
        "handing over the watch", "hand over the watch", "the watch is handed over",
        "i hand over the watch", "somebody else has the watch", "someone else has the watch",
        "another driver has the watch",
    ),
    ("night", "banked"): (
        "banked for the night", "she is banked for the night", "banking her for the night",
    ),
    ("boiler", "looked at"): ("boiler has been looked at", "the boiler has been looked at"),
    # "glass does not move" calls for the list of glass trouble
    ("glass", "comes back at once"): ("glass comes back at once", "the glass comes back at once"),
    ("glass", "comes back slowly"): ("glass comes back slowly", "the glass comes back slowly"),
    ("glass", "stays empty"): ("glass stays empty", "the glass stays empty"),
    ("glass", "fills and stays"): ("glass fills and stays", "the glass fills and stays"),
    ("glass cocks", "shut"): ("glass cocks shut", "glass cocks are shut", "both cocks shut"),
    # what was reported of the subject did not happen
    ("withdrawn", "valve"): (
        "the valve did not lift", "valve did not lift", "the valve did not feather",
        "valve did not feather",
    ),
    ("withdrawn", "fire"): (
        "the fire was not lit", "fire was not lit", "the fire is not lit", "fire is not lit",
    ),
    ("withdrawn", "feed"): ("the feed was not on", "feed was not on"),
    **remarks.FORMS,
}  # fmt: skip
# Told by the hand that moved it. "Shut the damper" alone may be an order to somebody.
BY_HAND: tuple[tuple[str, Report], ...] = (
    *(
        (frame.format(name), Report(subject, value))
        for subject, name in (
            ("damper", "damper"), ("blower", "blower"), ("regulator", "regulator"),
            ("drains", "drains"), ("drains", "drain cocks"),
        )
        for value, frames in (
            ("shut", ("i have shut the {}", "i shut the {}")),
            ("open", ("i have opened the {}", "i opened the {}", "opened the {}")),
        )
        for frame in frames
    ),
    *(
        (frame.format(name), Report(name, "crack"))
        for name in ("damper", "blower")
        for frame in ("i have cracked the {}", "i opened the {} a crack", "cracked the {}")
    ),
    *(
        (frame.format(name), Report("feed", value))
        for name in ("feed", "injector", "pump")
        for value, frames in (
            ("on", ("i have started the {}", "started the {}")),
            ("off", ("i have stopped the {}", "stopped the {}")),
        )
        for frame in frames
    ),
    ("started feeding", Report("feed", "on")), ("stopped feeding", Report("feed", "off")),
    ("i have stopped feeding", Report("feed", "off")), ("pumping now", Report("feed", "on")),
)  # fmt: skip

# Accepted whatever is expected, as "no water in sight" is: what an operator would shout.
EMERGENCIES: dict[str, tuple[str, ...]] = {
    "steam escaping": (
        "steam escaping", "steam is escaping", "water escaping", "steam leak",
        "steam everywhere", "steam is blowing out", "steam is coming out",
        "joint has blown", "a joint has blown",
        "pipe has burst", "a pipe has burst", "feed pipe has burst", "the feed pipe has burst",
        "steam is leaking", "steam in the cab", "there is steam in the cab", "hose has burst",
        "the hose has burst", "mud door has blown", "mud door has blown out",
        "the mud door has blown", "washout plug has blown out", "the washout plug has blown out",
        "cannot see for steam", "i cannot see for steam", "can't see for steam",
        "i can't see for steam",
    ),
    "glass broken": (
        "glass broken", "glass is broken", "gauge glass broken", "the glass is broken",
        "glass has burst", "water glass is broken", "glass burst", "the glass burst",
        "gauge glass has burst", "gauge glass burst", "the glass has burst", "glass has broken",
        "the glass has broken", "glass has gone", "the glass has gone", "gauge glass has gone",
        "glass smashed", "the glass smashed", "glass is smashed", "glass shattered",
        "the glass shattered", "water glass has burst", "burst glass", "glass broke",
        "the glass broke", "water glass broke", "glass cracked", "glass is cracked",
        "glass has cracked",
        "the glass has cracked", "glass is gone", "the glass is gone", "the glass has just burst",
    ),
    "someone hurt": ("someone hurt", *hurt.hurt()),
    "fire outside": (
        "fire outside the firebox", "fire outside", "something is on fire", "grass is on fire",
        "the grass is on fire", "hedge is on fire", "the hedge is on fire", "straw is on fire",
        "the straw is on fire", "the shed is on fire", "wagon is on fire", "the wagon is on fire",
        "trailer is on fire", "the trailer is on fire", "bunker is on fire",
        "the bunker is on fire", "fire in the bunker", "the floor is on fire",
        "grass is burning", "the grass is burning",
        "the grass is alight", "hot coals on the grass", "hot coal on the grass",
        "sparks in the grass",
        "oil has caught fire", "the oil has caught fire", "oil is on fire", "the oil is on fire",
        "the hay is on fire", "tarpaulin is on fire", "the tarpaulin is on fire",
    ),
    "plug has gone": (
        "fusible plug has gone", "plug has gone", "the plug has gone", "plug has blown",
        "the plug has blown", "fusible plug has blown", "soft plug has blown", "soft plug blew",
        "steam in the firebox",
        "fusible plug has dropped", "plug has dropped", "the plug has dropped", "plug dropped",
        "the lead has run", "lead has run", "lead plug has gone",
    ),
    "tube has burst": (
        "tube has burst", "a tube has burst", "flue has burst", "tubes are leaking",
        "a tube is leaking", "tube is leaking", "a tube has gone", "tube has gone",
        "tube has let go", "water in the smokebox", "there is water in the smokebox",
        "steam in the smokebox",
        "flue has let go", "a stay has broken", "stay has broken", "a stay has gone",
        "stay has gone",
    ),
    "water in the firebox": (
        "water in the firebox", "leak in the firebox", "steam from the firehole",
        "steam out of the firehole", "steam is coming out of the firehole",
        "steam at the firehole door", "steam is coming out of the firebox",
    ),
    "plate is red hot": (
        "plate is red hot", "the plate is red hot", "crown is red hot", "the crown is red hot",
        "the crown is red", "crown is glowing", "the crown is glowing", "firebox crown is glowing",
        "red plate in the firebox", "plate is bulging", "the plate is bulging",
        "bulge in the plate", "crown is bulging", "crown is down",
        "bulge in the firebox", "there is a bulge in the firebox", "crown sheet is red",
        "the crown sheet is red", "crown sheet is red hot", "the crown sheet is red hot",
    ),
    "safety valve is stuck": (
        "safety valve is stuck", "safety valve won't lift", "safety valve will not lift",
        "valve won't lift",
        "valve is jammed", "safety valve is jammed", "valve is stuck shut",
        "safety valve is stuck shut",
    ),
    "regulator is stuck open": (
        "regulator is stuck open", "regulator stuck open", "cannot shut the regulator",
        "can't shut the regulator", "i can't shut the regulator", "throttle is stuck open",
        "regulator is stuck", "the regulator is stuck", "regulator is jammed",
        "throttle is stuck", "regulator will not shut", "the regulator will not shut",
        "regulator won't shut",
        "regulator will not close", "regulator won't close", "the regulator won't close",
    ),
    "engine is running away": (
        "engine is running away", "she is running away", "running away", "brake will not hold",
        "the brake will not hold", "brake does not hold", "the brake does not hold",
        "brake won't hold", "brake slips", "the brake slips", "brake is slipping",
        "the brake is slipping", "chocks slipped", "chocks have slipped",
        "the chocks have slipped", "she is rolling away", "engine is rolling away",
        "brake is not holding", "the brake is not holding", "brake has failed",
        "the brake has failed", "she has run away", "she has started by herself",
        "she won't stop", "she will not stop", "i can't stop her", "cannot stop her",
        "steering has gone", "the steering has gone",
        "brakes have gone", "the brakes have gone", "brakes have failed", "the brakes have failed",
        "brake has gone", "the brake has gone", "she is racing",
    ),
    "engine creeps": (
        "engine creeps", "she creeps", "she is creeping", "engine is creeping",
        "the engine is creeping", "she is creeping again", "she is rolling", "engine is rolling",
        "she moved", "she has moved", "she crept", "she moved by herself",
        "she is moving by herself", "she is moving on her own", "she moved on her own",
        "she has moved on her own", "she is rolling back", "rolling back", "regulator leaks",
        "regulator is leaking", "regulator is passing", "regulator passing", "throttle leaks",
        "throttle is leaking",
    ),
    "somebody is burned": hurt.burned(),
    "chimney fire": (
        "chimney fire", "chimney is on fire", "the chimney is on fire", "stack is on fire",
    ),
    "clack is stuck open": (
        "clack is stuck open", "the clack is stuck open", "check valve is stuck open",
        "check valve stuck open",
        "clack stuck open", "clack is stuck", "the clack is stuck", "clack is leaking",
        "the clack is leaking", "clack leaks", "clack is passing", "check valve is leaking",
        "boiler is blowing back", "hot water coming back", "hot water is coming back",
        "hot water is coming back to the tank", "hot water in the tank",
        "water coming back to the tank", "water is coming back to the tank",
        "clack is hot", "the clack is hot", "clack does not seat", "clack is not seating",
        "clack will not seat",
        "the tank is hot", "tank is getting hot", "the tank is getting hot",
    ),
    "blow down is stuck open": (
        "blow down is stuck open", "the blow down is stuck open", "blow down is stuck",
        "the blow down is stuck", "cannot shut the blow down",
        "blow down will not shut", "blow down won't shut",
        "losing all the water",
    ),
    "someone is trapped": (
        "someone is trapped", "somebody is trapped", "hand is caught", "caught in the motion",
        "my sleeve is caught", "i am trapped", "caught in the belt", "he is caught in the belt",
        "a man is under the wheel",
        "his sleeve is in the motion", "sleeve in the motion", "his sleeve is caught",
        "he has trapped his hand", "i have trapped my hand", "trapped his hand", "trapped my hand",
        "caught his fingers", "caught my fingers", "he has caught his fingers",
        "i have caught my fingers", "his foot is under the wheel", "my foot is under the wheel",
        "foot under the wheel",
    ),
    "driver is ill": (
        "driver is ill", "the driver is ill", "feeling faint", "i feel faint", "it is the fumes",
        "fumes", "fumes in the shed", "smoke in the shed", "the shed is full of smoke",
        "too much smoke in here", "my head aches", "headache", "i have a headache",
        "i have got a headache", "i feel sick", "i feel ill", "i feel dizzy", "i am dizzy",
        "i'm dizzy", "i feel unwell",
        "i can't breathe", "i cannot breathe", "cannot breathe",
    ),
    "flames out of the firehole": (
        "flames out of the firehole", "flames out of the door", "flames from the firehole",
        "fire is blowing back", "the fire is blowing back", "flames at the firehole",
        "flames at the door", "flames are coming out", "flames coming out",
        "flames out of the firehole door", "flames are coming out of the door",
        "flames are coming out of the firehole", "the fire blew back", "fire blew back",
        "it blew back", "a blow back", "blow back at the door",
        "blow back at the firehole", "firehole flashback", "flashback",
        "she has blown back", "fire has blown back", "the fire has blown back",
        "we have had a blow back", "had a blow back",
    ),
    "touched a power line": (
        "touched a power line", "we touched a wire", "on the power line", "we hit a power line",
        "wire is on the engine",
        "a wire is on the engine", "a wire is down on the engine", "cable is on the engine",
        "a cable is on the engine", "power line is down on the engine",
        "power line is down",
    ),
    "engine is over": (
        "engine is over", "she is on her side", "nose in the ditch", "she is in the ditch",
    ),
    "child inside the barrier": (
        "child inside the barrier", "child inside", "child is inside", "a child is inside",
        "child under the rope", "a child has ducked under the rope", "child near the engine",
        "child is close",
        "there is a child near the engine", "dog underneath", "somebody underneath",
        "somebody is underneath", "somebody is under the engine", "somebody is under the wheel",
        "somebody is under the wheels", "he is under the engine", "he is under the wheel",
        "he is under the wheels",
        "a child has climbed on", "child has climbed on", "there is a child too close",
        "a child is too close", "child is too close", "child is under the wheel",
        "a child is under the wheel", "child under the wheel", "child is under the trailer",
        "a child is under the trailer", "child under the trailer",
    ),
}  # fmt: skip
# What is seen in trouble and of what was reported: accepted even while yes or no is expected.
AT_ANY_TIME = frozenset({"glass", "withdrawn", "boiler"}) | remarks.AT_ANY_TIME
# Moves that are asked for, accepted in any phase: one that is not legal is answered.
MOVE_FORMS: dict[str, tuple[str, ...]] = {
    "stand_by": ("standing by now", "we are standing by", "standing by", "stand by now"),
    "raise_steam": (
        "raising steam again",
        "raise steam again",
        "raising steam",
        "raising steam now",
    ),
    "move_off": ("moving off again", "moving off", "we are moving off", "move off"),
    "feed": ("time to feed again",),
    "put_away": ("putting her away", "putting away now", "putting away", "put her away"),
}
# Where a step asks, these are its answer (a valve tried by hand, a pipe felt, a jet being started).
UNLESS_ASKED: tuple[tuple[str, Report], ...] = (
    ("valve will not lift", Report("emergency", "safety valve is stuck")),
    ("someone is caught", Report("emergency", "someone is trapped")),  # a file may call it a hurt
    ("injector is feeding", Report("feed", "on")),
    ("water is coming up", Report("water told", "coming back")),
    ("injector has picked up", Report("feed", "on")),
    ("pressure is climbing", Report("pressure told", "rising")),
    *((form, Report("delivery", "hot")) for form in remarks.HOT_PIPE),
    *((form, Report("injector", "fails")) for form in remarks.OVERFLOWS),
    *((form, Report("cure", "fire_trouble")) for form in remarks.LOW_FIRE),
)

# Pairs that are reported in one breath, in the first form of each.
TOGETHER = (
    (("blower", "shut"), ("damper", "shut")),
    (("damper", "shut"), ("blower", "shut")),
    (("blower", "crack"), ("damper", "half")),
    (("blower", "half"), ("damper", "half")),
    (("blower", "open"), ("damper", "open")),
    (("regulator", "shut"), ("drains", "open")),
    (("regulator", "shut"), ("drains", "shut")),
    (("fire", "coal"), ("blower", "half")),
    (("fire", "coal"), ("damper", "open")),
    (("fire", "banked"), ("damper", "shut")),
    (("feed", "off"), ("damper", "shut")),
)


def emergencies() -> Iterator[tuple[Words, Report]]:
    """Every form of every emergency, as `Report("emergency", name)`."""
    for name, texts in EMERGENCIES.items():
        for text in texts:
            yield tuple(text.split()), Report("emergency", name)


def moves() -> Iterator[tuple[Words, Report]]:
    """Every form of every move, as `Report("move", name)`."""
    for name, texts in MOVE_FORMS.items():
        for text in texts:
            yield tuple(text.split()), Report("move", name)


def states_at_any_time() -> Iterator[tuple[Words, Report]]:
    """The states that are accepted even while yes or no is expected."""
    return (pair for pair in states() if pair[1].what in AT_ANY_TIME)


def states() -> Iterator[tuple[Words, Report]]:
    """Every form of every state, with its report."""
    yield from _of_the_table()
    for text, report in BY_HAND:
        yield tuple(text.split()), report


def correctable() -> Iterator[tuple[Words, Report]]:
    """The states that may follow "wrong"; a remark takes no other's place."""
    return (pair for pair in _of_the_table() if (pair[1].what, pair[1].value) not in remarks.FORMS)


def _of_the_table() -> Iterator[tuple[Words, Report]]:
    for (what, value), texts in STATE_FORMS.items():
        for text in texts:
            yield tuple(text.split()), Report(what, value)


def is_state(meaning: object) -> bool:
    """Whether it is a state of this table, or no state of a thing at all (a reading, a count)."""
    if not isinstance(meaning, Report) or meaning.what in (*READINGS, COAL_PUT_ON, WATER_PUT_IN):
        return True
    return (meaning.what, meaning.value) in STATE_FORMS or meaning.what in CALL_SUBJECTS


def preferred_words(what: str, value: str) -> str | None:
    """The words in which the assistant says a state; None for a state that is not in the table.

    >>> preferred_words("feed", "off")
    'finished feeding'
    """
    texts = STATE_FORMS.get((what, value))
    return texts[0] if texts else None
