"""Sentences that are understood only when typed: by ear each is too near to another sentence.

Typed words are certain, so that a form may differ from another by one sound ("can", "can't"). Knows
words and what they report; knows no question.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.grammar.fractions import JUST
from assistant.grammar.numbers import Words
from assistant.grammar.readings import NO_WATER_SEEN
from assistant.messages import Report

FORMS: dict[Report, tuple[str, ...]] = {
    Report("water told", "enough"): (
        "water in sight", "i can see the water", "we can see the water", "i can see water",
    ),
    Report("fire", "lit"): (
        "lit her again", "lit it again", "lit the fire", "i lit the fire", "i have lit the fire",
        "lit her up", "got her lit", "we are lit", "fire is going", "match is in",
        "relit the fire", "i relit the fire", "i have relit the fire", "lit the fire again",
        "fire is relit",
    ),
    Report("fire", "coal"): (
        "coal is on the fire", "fed the fire", "i fed the fire", "put a round on",
        "i put a round on", "just put a round on", "a round of coal on", "shovel of coal on",
        "a shovel of coal on", "shovelful on",
    ),
    **{
        Report("water", fifths / 5, "glass"): (f"water {word} fifth{'s' * (fifths > 1)}",)
        for fifths, word in enumerate(("one", "two", "three", "four"), start=1)
    },
    Report("water", JUST, "glass"): (
        "can just see the water", "i can just see the water", "can only just see the water",
        "i can only just see the water", "just see the water", "water just in sight",
    ),
    Report("watch", "not kept"): (
        "i am off to the loo", "off to the loo", "nobody is here", "i am going home",
        "going home now", "going for my dinner", "i am going for my dinner", "going for a walk",
        "nobody on her", "nobody watching", "nobody watching her", "going to the loo",
        "having my tea", "i am away for five minutes",
    ),
    Report("feeds", "none works"): (
        "both feeds are dead", "both feeds have failed", "both feeds have gone",
    ),
    Report("firebox", "weeping"): (
        "water dripping in the fire", "there is water dripping in the fire",
        "water is dripping in the fire", "drips in the firebox",
    ),
    Report("emergency", "steam escaping"): (
        "big cloud of steam underneath", "cloud of steam underneath", "steam underneath",
        "something has blown", "something blew", "hose burst", "pipe burst",
    ),
    Report("feed", "on"): (
        "pump is going again", "pump is going", "pump is working again", "pump goes again",
    ),
    Report("gear", "in"): (
        "she has gone into gear", "gone into gear", "gear has jumped in", "jumped into gear",
        "she has jumped into gear", "it has jumped into gear",
    ),
    Report("emergency", "engine creeps"): (
        "she is moving off on her own", "she is moving off by herself", "moving on her own",
        "she is running away on her own", "she has started moving",
    ),
    Report("people", "near"): (
        "children about", "children near", "people are close", "not clear", "it is not clear",
        "somebody is in the way", "somebody in the way", "people in the way",
        "there is a child by the flywheel", "there is a child by the wheel",
        "there is a child by the engine", "child by the flywheel", "somebody has walked in front",
        "somebody walked in front", "somebody is in front", "somebody is in front of her",
        "somebody is behind her", "somebody by the flywheel", "there is somebody by the flywheel",
        "somebody is by the flywheel", "there is somebody in front of her",
    ),
    Report("gear", "out"): ("she is out of gear", "taken out of gear"),
    Report("valve", "shut"): (
        "valve has not moved",
        "valve has not lifted",
        "valve did not move",
        "valve has reseated",
        "valve reseated",
        "safety valve has reseated",
        "safety has not moved",
    ),
    Report("injector", "works"): ("injector is working",),
    Report("brake", "on and chocked"): ("she is chocked",),
    Report("cure", "gauge_trouble"): (
        "gauge needle is stuck", "needle is jumping", "needle is jumping about",
    ),
    Report("cure", "glass_trouble"): (
        "glass has gone dirty", "glass has gone cloudy", "glass is cloudy", "glass is dirty again",
        "gland on the glass is leaking", "glass gland is leaking", "glass nut is leaking",
    ),
    Report("emergency", "clack is stuck open"): (
        "clack is blowing back", "clack blows back", "clack blowing back",
    ),
    Report("fire", "banked"): ("banked her up", "banked it up"),
    Report("oil", "all round"): ("oiled up", "i have oiled up", "i oiled up", "i have oiled round"),
    Report("engine", "stopped"): ("stopped her", "i stopped her", "i have stopped her"),
    Report("brake", "on"): ("brake is screwed down", "brake is hard on", "brake hard on"),
    Report("fire", "built"): ("wood on the fire", "wood is on the fire", "more wood on"),
    NO_WATER_SEEN: ("boiler is empty", "boiler empty", "water is out of sight in the bottom nut"),
    Report("tank", 0.0, "tank"): (
        "tank is dry", "no water in the tank", "there is no water in the tank",
        "tank is out of water",
    ),
    Report("valve", "lifting"): (
        "she popped", "pops are going", "pops have gone off", "valve stays open",
    ),
    Report("valve", "feathering"): (
        "valve is just feathering", "valve is just simmering", "valve is just sizzling",
    ),
    Report("boiler", "leaking"): (
        "washout plug is weeping", "boiler is leaking from a seam", "seam is leaking",
    ),
    Report("emergency", "someone is trapped"): (
        "my hand is caught", "my arm is caught", "i am caught", "he is caught",
        "somebody is caught",
        "my foot is trapped under the wheel", "his foot is trapped under the wheel",
        "foot is trapped", "his foot is trapped", "my foot is trapped",
    ),
    Report("emergency", "somebody is burned"): (
        "coat caught fire", "his coat caught fire", "my coat caught fire", "sleeve caught fire",
        "his sleeve caught fire", "my sleeve caught fire", "clothes caught fire",
    ),
    Report("glass", "comes back at once"): (
        "returns quickly", "returns smartly", "comes back quickly", "it comes back quickly",
        "it returns smartly", "comes right back", "it comes right back", "water comes back fast",
        "it returned at once", "returned at once", "it came back at once",
    ),
    Report("feed", "off"): (
        "stopped pumping", "i stopped pumping", "i have stopped pumping", "stopped the pump",
        "i stopped the pump", "i have stopped the pump", "no longer pumping",
    ),
    Report("vent", "blows steam"): (
        "top cock blows steam", "top cock is blowing steam", "steam at the top cock",
        "steam from the blower", "steam at the blower", "vent is blowing steam",
    ),
    Report("emergency", "tube has burst"): (
        "leaking tube", "leaking tubes", "water dripping from the tubes",
        "water is dripping from the tubes", "smokebox is full of steam", "smokebox full of steam",
        "steam coming out of the smokebox",
    ),
    Report("emergency", "glass broken"): ("cracked glass", "broken glass"),
    Report("emergency", "child inside the barrier"): ("man under the engine",),
    Report("pressure told", "rising"): (
        "pressure is creeping up", "pressure is climbing too fast", "pressure is rising too fast",
        "pressure going up fast", "pressure is going up fast", "pressure climbing fast",
        "pressure is climbing fast", "pressure shooting up", "pressure is shooting up",
        "fire is too hot", "fire is fierce", "fire is too fierce", "fire is burning too fierce",
        "burning too fierce", "fire is roaring",
    ),
    Report("pressure told", "high"): (
        "she is over pressure", "over pressure", "boiler is over pressure", "past the red",
        "over the red", "it is past the red", "it is over the red", "in the red",
        "it is in the red", "past the red line", "going past the red line",
        "it is going past the red line",
        "over the red line", "it is over the red line", "pressure is over the red line",
        "past the red mark", "it is past the red mark", "over the red mark",
        "pressure is over the red mark", "pressure is past the red mark", "above the red line",
        "pressure is above the red line", "needle is past the red line", "off the scale",
        "needle is over the red line", "gauge is over the red line", "gauge is off the scale",
    ),
    Report("pressure told", "falling"): (
        "pressure falling fast", "pressure is falling fast", "pressure dropping fast",
        "pressure is dropping fast", "pressure going down fast", "pressure is going down fast",
    ),
    Report("emergency", "driver is ill"): (
        "my head is banging", "feel a bit sick", "i feel a bit sick", "feeling sick",
        "he has fainted", "driver has fainted", "somebody has fainted", "my mate has fainted",
        "fireman has fainted", "my mate is not well", "my mate is ill", "he is not well",
    ),
    Report("emergency", "someone hurt"): (
        "fireman has collapsed", "steersman has collapsed", "mate has collapsed",
    ),
    Report("emergency", "fire outside"): (
        "hay is on fire", "oil caught fire", "coal is on fire", "coal in the bunker is on fire",
        "lagging is on fire", "lagging is smoking", "belt is on fire", "tender is on fire",
        "cladding is on fire",
    ),
    Report("water told", "going down"): (
        "level is dropping", "level is falling", "level is going down", "bit low on water",
        "low on water", "water is too low", "water dropping fast", "water is dropping fast",
    ),
    Report("stop valve", "shut"): (
        "stop valve shut", "i shut the stop valve", "clack stop valve shut", "shut the stop valve",
    ),
    Report("stands", "nose up"): ("going uphill", "we are going uphill", "climbing the hill"),
    Report("stands", "nose down"): (
        "over the top", "going over the top", "over the brow", "going downhill",
        "going downhill now", "we are going downhill",
    ),
    Report("brake", "not chocked"): (
        "chocks out", "chocks are out", "taken the chocks out", "took the chocks out",
    ),
    Report("glass cocks", "shut"): ("i shut the glass cocks", "i shut both cocks"),
    Report("cure", "pump_trouble"): (
        "pump does not work", "pump is not delivering", "pump does not deliver",
        "hand pump is broken", "pump is broken", "pump has given up", "pump is dead",
        "pump is airlocked", "pump is air locked", "pump is not taking", "pump does not take",
    ),
    Report("cure", "injector_trouble"): (
        "injector does not work", "injector is too hot", "injector is blowing steam",
        "injector keeps knocking off", "injector keeps dropping out", "injector is not working",
    ),
    Report("injector", "fails"): (
        "injector has packed up", "injector packed up", "steam from the injector overflow",
        "water from the injector overflow", "steam at the injector overflow",
    ),
    Report("cure", "priming"): (
        "water from the chimney", "water is coming from the chimney", "water out of the chimney",
        "chimney is throwing water", "chimney throwing water", "wet steam",
        "water jumping in the glass", "water jumping up and down in the glass",
        "water is jumping in the glass", "water is jumping up and down",
    ),
    Report("cure", "fire_trouble"): (
        "fire is clinkered up", "fire is thin", "fire has burned thin", "fire is burning thin",
    ),
    Report("tank", 1.0, "tank"): ("filled the tank", "i filled the tank", "tank is filled"),
    Report("gland", "blowing"): ("steam leak at the gland", "regulator gland is blowing"),
    Report("move", "put_away"): (
        "let's put her away", "we will put her away", "let's start putting away",
        "we will start putting away", "we'll start putting away", "start putting away",
    ),
    Report("move", "feed"): ("let's start pumping", "start pumping"),
    Report("move", "stand_by"): ("stand by",),
    Report("move", "move_off"): ("ready to move", "ready to move off"),
}  # fmt: skip


# What was done to a thing. "Shut the bypass" alone may be an order to somebody.
_DONE: tuple[tuple[tuple[str, ...], str, tuple[str, ...]], ...] = (
    (("opened the {}", "i opened the {}", "i have opened the {}"), "open", ("bypass",)),
    (("i shut the {}", "i have shut the {}"), "shut", ("bypass",)),
    (
        ("opened the {} a crack", "i opened the {} a crack", "cracked the {}"),
        "open",
        ("regulator",),
    ),
    (("opened the {} a crack",), "crack", ("damper", "blower")),
)
_WHO = (
    "he", "she", "somebody", "someone", "a man", "a boy", "a child", "a visitor", "my mate",
    "the driver",
)  # fmt: skip
_LIMBS = ("arm", "hand", "foot", "leg", "sleeve", "coat", "man")
_CAUGHT_IN = ("flywheel", "belt", "gear", "gears", "motion", "wheel", "wheels", "crank", "rods")
_CAUGHT = Report("emergency", "someone is trapped")
_UNDER_HER = Report("emergency", "child inside the barrier")
_UNSEEN = (
    "i see no water",
    *(f"{who}cannot see {any_}water" for who in ("", "i ", "we ") for any_ in ("", "any ", "the ")),
)
_FED = ("feed", "injector")
_FEED_OFF = (
    "knocked off the {}", "knocked the {} off", "i knocked off the {}", "i knocked the {} off",
    "i have knocked off the {}", "i have knocked the {} off", "shut off the {}",
)  # fmt: skip


def typed_forms() -> Iterator[tuple[Words, Report]]:
    """Every form with what it reports."""
    for frames, state, names in _DONE:
        for frame, name in ((frame, name) for frame in frames for name in names):
            yield tuple(frame.format(name).split()), Report(name, state)
    for frame, name in ((frame, name) for frame in _FEED_OFF for name in _FED):
        yield tuple(frame.format(name).split()), Report("feed", "off")
    for unseen in _UNSEEN:
        for when in ("", " now", " any more"):
            yield tuple(f"{unseen} in the glass{when}".split()), NO_WATER_SEEN
    for part in _CAUGHT_IN:
        for who in ("", *(f"{who} is " for who in _WHO), *(f"{limb} " for limb in _LIMBS)):
            yield tuple(f"{who}caught in the {part}".split()), _CAUGHT
    for who in _WHO[2:]:
        yield tuple(f"she has run over {who}".split()), _CAUGHT
        yield tuple(f"we have run over {who}".split()), _CAUGHT
        yield tuple(f"{who} has run under the engine".split()), _UNDER_HER
    for who in _WHO:
        for place in ("under the engine", "under her"):
            yield tuple(f"{who} is {place}".split()), _UNDER_HER
    for report, texts in FORMS.items():
        for text in texts:
            yield tuple(text.split()), report
