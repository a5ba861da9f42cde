"""Every answer of every shipped list, every state and every call, as it is said back.

The table was read aloud: a new answer fails here until somebody has read its sentence.
"""

from __future__ import annotations

import pytest
from session_story import parts

from assistant.grammar import counted, fractions
from assistant.grammar.states import STATE_FORMS
from assistant.messages import Report
from assistant.procedure import emergency, phases
from assistant.wording.quantities import word_count
from assistant.wording.readback import confirm, read_back, which

SAID_BACK: dict[tuple[str, str], str] = {
    ("ash pan", "clean"): "Ash pan clean.",
    ("bearings", "cool"): "Bearings cool.",
    ("bearings", "hot"): "Bearings hot.",
    ("blower", "crack"): "Blower just cracked.",
    ("blower", "half"): "Blower half open.",
    ("blower", "open"): "Blower wide open.",
    ("blower", "shut"): "The blower is shut.",
    ("blower trouble", "cured"): "Blower trouble cured.",
    ("blower trouble", "still there"): "Blower trouble still there.",
    ("barrier", "not up"): "Barrier not up.",
    ("barrier", "up"): "Barrier up.",
    ("blow-down", "open"): "Blow-down open.",
    ("blow-down", "shut"): "Blow-down shut.",
    ("blow through", "done"): "Glass blown through.",
    ("bypass fault", "jammed"): "Bypass is jammed.",
    ("stop valve", "open"): "Stop valve is open.",
    ("stop valve", "shut"): "Stop valve is shut.",
    ("boiler", "leaking"): "Boiler leaking.",
    ("boiler", "looked at"): "Boiler has been looked at.",
    ("boiler", "tight"): "Boiler tight.",
    ("night", "banked"): "Banked for the night.",
    ("on watch", "not named"): "Handing over the watch.",
    ("brake", "not chocked"): "Wheels not chocked.",
    ("brake", "on"): "Brake on.",
    ("brake", "on and chocked"): "Brake on and chocked.",
    ("bypass", "open"): "Bypass open.",
    ("bypass", "shut"): "Bypass shut.",
    ("chimney", "capped"): "Chimney capped.",
    ("chimney", "dead"): "Chimney dead.",
    ("chimney", "drawing"): "Chimney drawing.",
    ("chimney", "left open"): "Chimney left open.",
    ("cure", "blower_weak"): "Blower trouble.",
    ("cure", "fire_trouble"): "Fire trouble.",
    ("cure", "glass_trouble"): "Glass trouble.",
    ("cure", "injector_trouble"): "Injector trouble.",
    ("cure", "pressure_hangs"): "Pressure trouble.",
    ("cure", "priming"): "Priming.",
    ("cure", "gauge_trouble"): "Gauge trouble.",
    ("gauge cock", "open"): "Gauge cock open.",
    ("gauge cock", "shut"): "Gauge cock shut.",
    ("gauge trouble", "cured"): "Gauge trouble cured.",
    ("gauge trouble", "valve wrong"): "Valve set wrong.",
    ("gauge trouble", "still there"): "Gauge trouble still there.",
    ("cure", "pump_trouble"): "Pump trouble.",
    ("cure", "taking_over"): "Taking over.",
    ("cylinder", "dry"): "Cylinder dry.",
    ("cylinder", "wet"): "Cylinder wet.",
    ("damper", "crack"): "Damper just cracked.",
    ("damper", "half"): "The damper is half open.",
    ("damper", "open"): "Damper wide open.",
    ("damper", "shut"): "Damper shut.",
    ("delivery", "cool and gaining"): "Delivery cool and gaining.",
    ("delivery", "gaining"): "Glass gaining.",
    ("delivery", "gives no gain"): "Delivery gives no gain.",
    ("delivery", "hot"): "Delivery hot.",
    ("drains", "open"): "Drain cocks open.",
    ("drains", "shut"): "Drain cocks shut.",
    ("emergency", "fire outside"): "Fire outside.",
    ("emergency", "glass broken"): "Glass broken.",
    ("emergency", "over"): "Danger is over.",
    ("emergency", "someone hurt"): "Someone hurt.",
    ("emergency", "steam escaping"): "Steam escaping.",
    ("emergency", "chimney fire"): "Chimney fire.",
    ("emergency", "clack is stuck open"): "Clack is stuck open.",
    ("emergency", "blow down is stuck open"): "Blow down is stuck open.",
    ("emergency", "someone is trapped"): "Someone is trapped.",
    ("emergency", "driver is ill"): "Driver is ill.",
    ("emergency", "flames out of the firehole"): "Flames out of the firehole.",
    ("emergency", "touched a power line"): "Touched a power line.",
    ("emergency", "engine is over"): "Engine is over.",
    ("emergency", "child inside the barrier"): "Child inside the barrier.",
    ("emergency", "engine is running away"): "Engine is running away.",
    ("emergency", "engine creeps"): "Engine creeps.",
    ("emergency", "plate is red hot"): "Plate is red hot.",
    ("emergency", "plug has gone"): "Plug has gone.",
    ("emergency", "regulator is stuck open"): "Regulator is stuck open.",
    ("emergency", "safety valve is stuck"): "Safety valve is stuck.",
    ("emergency", "somebody is burned"): "Somebody is burned.",
    ("emergency", "tube has burst"): "Tube has burst.",
    ("emergency", "water in the firebox"): "Water in the firebox.",
    ("extinguisher", "missing"): "Extinguisher missing.",
    ("extinguisher", "to hand"): "Extinguisher to hand.",
    ("extension", "off"): "Extension off.",
    ("extension", "on"): "Extension on.",
    ("feed", "off"): "Finished feeding.",
    ("feeds", "none works"): "No feed works.",
    ("feed", "on"): "The feed is running.",
    ("feed test", "done today"): "Feed test done today.",
    ("feed test", "not done today"): "Feed test not done today.",
    ("firebox", "dry"): "Firebox dry.",
    ("firebox", "weeping"): "Firebox weeping.",
    ("blower fault", "stuck"): "Blower is stuck.",
    ("water told", "coming back"): "Water coming back.",
    ("water told", "enough"): "Water is good.",
    ("pressure told", "enough"): "Pressure is good.",
    ("pressure told", "falling"): "Pressure falling.",
    ("pressure told", "rising"): "Pressure is rising.",
    ("belt", "off"): "Belt has come off.",
    ("coal", "used up"): "Out of coal.",
    ("gland", "blowing"): "Gland is blowing.",
    ("reverser", "mid gear"): "Reverser is in mid gear.",
    ("firehole", "shut"): "Firehole door shut.",
    ("firehole", "open"): "Firehole door open.",
    ("flames", "drawn in"): "Flames are drawn in.",
    ("engine", "stopped"): "Engine has stopped.",
    ("fluid", "on the fire"): "Fluid on the fire.",
    ("joint", "tightened"): "Tightening the mud door.",
    ("fire", "banked"): "The fire is banked up.",
    ("fire", "bright"): "Fire bright.",
    ("fire", "built"): "Fire built up.",
    ("fire", "burning alone"): "Fire burning alone.",
    ("fire", "coal"): "More coal on the fire.",
    ("fire", "dead"): "Fire dead.",
    ("fire", "drawn"): "The fire is dropped.",
    ("fire", "lit"): "Fire is lit.",
    ("fire", "run down"): "Fire run down.",
    ("fire", "watched"): "Fire watched.",
    ("fire trouble", "cured"): "Fire trouble cured.",
    ("fire trouble", "still there"): "Fire trouble still there.",
    ("frost", "drained"): "Boiler drained.",
    ("frost", "guarded against"): "Frost guarded against.",
    ("frost", "not guarded against"): "Frost not guarded against.",
    ("fuel", "to hand"): "Fuel to hand.",
    ("gear", "in"): "Gear in.",
    ("gear", "out"): "Gear out.",
    ("glass", "comes back at once"): "Glass comes back at once.",
    ("glass", "comes back slowly"): "Glass comes back slowly.",
    ("glass", "new"): "New glass is in.",
    ("fire bars", "dropped"): "Fire bar dropped.",
    ("damper fault", "stuck"): "Damper is stuck.",
    ("glass", "does not move"): "Glass does not move.",
    ("glass", "fills and stays"): "Glass fills and stays.",
    ("glass", "stays empty"): "Glass stays empty.",
    ("glass cocks", "shut"): "Glass cocks shut.",
    ("glass trouble", "cured"): "Glass trouble cured.",
    ("glass trouble", "still there"): "Glass trouble still there.",
    ("gloves", "on"): "Gloves on.",
    ("hand pump", "fails"): "Hand pump fails.",
    ("hand pump", "works"): "Hand pump works.",
    ("injector", "fails"): "Injector fails.",
    ("injector", "works"): "Injector works.",
    ("injector trouble", "cured"): "Injector trouble cured.",
    ("injector trouble", "still there"): "Injector trouble still there.",
    ("log", "signed"): "Log signed.",
    ("lubricator", "moving"): "Lubricator moving.",
    ("lubricator", "stands still"): "Lubricator stands still.",
    ("move", "feed"): "Time to feed.",
    ("move", "move_off"): "Moving off again.",
    ("move", "put_away"): "Putting away.",
    ("move", "raise_steam"): "Raising steam again.",
    ("move", "stand_by"): "Standing by.",
    ("oil", "all round"): "Oil all round.",
    ("papers", "in date"): "Papers in date.",
    ("papers", "out of date"): "Papers out of date.",
    ("people", "clear"): "People clear.",
    ("people", "near"): "People near.",
    ("pipe", "cool"): "Pipe cool.",
    ("pipe", "hot"): "Pipe hot.",
    ("pipes", "drained"): "Pipes drained.",
    ("pressure", "no blow-down"): "No blow-down today.",
    ("pressure", "on the pin"): "Needle on the pin.",
    ("pressure trouble", "cured"): "Pressure trouble cured.",
    ("pressure trouble", "still there"): "Pressure trouble still there.",
    ("priming", "cured"): "Priming cured.",
    ("priming", "still there"): "Priming still there.",
    ("pump trouble", "cured"): "Pump trouble cured.",
    ("protector", "not on"): "Protector not on.",
    ("protector", "on"): "Protector on.",
    ("pump trouble", "still there"): "Pump trouble still there.",
    ("regulator", "open"): "Regulator open.",
    ("regulator", "shut"): "Regulator shut.",
    ("repairs", "not needed"): "Repairs not needed.",
    ("repairs", "noted"): "Repairs noted.",
    ("reverser", "full forward"): "Reverser full forward.",
    ("safety valve", "free"): "Safety valve free.",
    ("safety valve", "stuck"): "Safety valve stuck.",
    ("try cocks", "show no water"): "Try cocks show no water.",
    ("try cocks", "show water"): "Try cocks show water.",
    ("tubes", "swept"): "Tubes swept.",
    ("stands", "nose down"): "Nose down.",
    ("stands", "nose up"): "Nose up.",
    ("stands", "on a slope"): "On a slope.",
    ("stands", "level"): "Level again.",
    ("water told", "going down"): "Water going down.",
    ("valve seat", "leaking"): "Valve is leaking.",
    ("valve", "feathering"): "Safety valve feathering.",
    ("valve", "lifting"): "Safety valve lifting.",
    ("valve", "shut"): "Safety valve shut.",
    ("valve test", "agreed today"): "Valve test agreed today.",
    ("valve test", "not seen today"): "Valve test not seen today.",
    ("vent", "blows air"): "Vent blows air.",
    ("vent", "blows steam"): "Vent blows steam.",
    ("watch", "kept"): "Watch kept.",
    ("watch", "not kept"): "Nobody is on watch.",
    ("water", "out of sight"): "No water in sight.",
    ("blower", "top cock"): "Top cock open.",
    ("withdrawn", "feed"): "The feed was not on.",
    ("withdrawn", "fire"): "The fire was not lit.",
    ("withdrawn", "valve"): "The valve did not lift.",
}  # fmt: skip

COUNTS: dict[str, str] = {
    "one bucket on": "One bucket on.",
    "two buckets on": "Two buckets on.",
    "three buckets on": "Three buckets on.",
    "one shovel on": "One shovel on.",
    "two shovels on": "Two shovels on.",
    "three shovels on": "Three shovels on.",
    "four shovels on": "Four shovels on.",
    "five litres in": "Five litres in.",
    "ten litres in": "Ten litres in.",
    "twenty litres in": "Two zero. Twenty litres in.",
    "one bucket of water in": "One bucket of water in.",
    "two buckets of water in": "Two buckets of water in.",
}

HEIGHTS: dict[tuple[str, float], str] = {
    ("water", 0.0): "Water at the very bottom.",
    ("water", 0.05): "Water just showing.",
    ("water", 0.1): "Water one tenth.",
    ("water", 0.35): "Water thirty five percent.",
    ("water", 0.45): "Water just under half.",
    ("water", 0.9): "Water nine tenths.",
    ("water", 0.95): "Water nearly full.",
    ("water", 1.0): "Water full.",
    ("tank", 0.0): "Tank empty.",
    ("tank", 0.05): "Tank nearly empty.",
    ("tank", 0.75): "Tank three quarters.",
    ("tank", 1.0): "Tank full.",
}


def reports() -> set[tuple[str, str]]:
    """Everything without a number that can be reported of the shipped lists."""
    made = parts()
    assert made.emergencies is not None
    found = set(STATE_FORMS)
    for listed in (*made.lists, *made.remedies):
        found |= {(s.asks, r.state) for s in listed.steps for r in s.replies}
    found |= {("cure", remedy.name) for remedy in made.remedies}
    found |= {("move", move) for move in phases.MOVE_FORMS}
    found |= {("emergency", e.name) for e in made.emergencies.entries if e.spoken}
    return found | {("emergency", emergency.OVER)}


def test_everything_that_can_be_answered_is_in_the_table_that_was_read_aloud() -> None:
    assert reports() == set(SAID_BACK)


@pytest.mark.parametrize(("report", "said"), SAID_BACK.items(), ids="-".join)
def test_a_state_is_said_back_as_a_driver_says_it(report: tuple[str, str], said: str) -> None:
    assert read_back(Report(*report)) == said
    assert word_count(said) <= 6
    assert confirm(Report(*report)) == said[:-1] + ": is that right?"


def test_every_count_is_said_back_with_its_number() -> None:
    counts = {" ".join(words): report for words, report in counted.counted()}
    assert {words: read_back(report) for words, report in counts.items()} == COUNTS
    assert confirm(counts["twenty litres in"]) == "Two zero, twenty litres in: is that right?"
    one, two = counts["one bucket on"], counts["two buckets on"]
    assert which(one, two) == "One bucket on, or two buckets on?"


@pytest.mark.parametrize(("height", "said"), HEIGHTS.items(), ids=str)
def test_a_height_is_said_back_in_its_own_words(height: tuple[str, float], said: str) -> None:
    what, value = height
    assert read_back(Report(what, value, "glass" if what == "water" else "tank")) == said


def test_what_is_said_back_means_the_very_height_that_was_called() -> None:
    known = fractions.forms()
    for value in known.values():
        said = fractions.exact(value)
        assert said is not None
        meant = 0.05 if said == "just showing" else known[tuple(said.split())]
        assert meant == pytest.approx(value, abs=5e-4), said
