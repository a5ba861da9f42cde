"""Sentences that would hurt somebody who follows them to the letter: none of them ships.

Each case fails with the words that it stands against.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from procedure_story import CURES, PHASES, SHIPPED, TAKING_OVER  # type: ignore[import-not-found]

from assistant.alarms.rule import Rule
from assistant.alarms.rules import BY_NAME, RULES
from assistant.config.emergencies_file import shipped_emergencies
from assistant.procedure.checklist import Checklist, Phase, Step

EMERGENCIES = shipped_emergencies()


def cure(name: str) -> Checklist:
    return next(c for c in CURES if c.name == name)


def texts(step: Step) -> Iterator[str]:
    """Everything that is said of a step."""
    yield from (step.say, step.again, step.caution, step.remark, step.why)
    yield from (reply.then for reply in step.replies)
    if step.limits is not None:
        yield from (step.limits.too_low, step.limits.too_high)


def spoken_of(rule: Rule) -> tuple[str, ...]:
    """What is said of an alarm, and its written act."""
    return rule.text, rule.more, rule.once_more, rule.action, rule.end_text


def everything() -> Iterator[tuple[str, str]]:
    """(where, text) of every sentence of every list, cure, emergency and alarm."""
    for listed in SHIPPED:
        yield from ((listed.name, text) for text in (listed.opening, listed.closing))
        for step in listed.steps:
            yield from ((f"{listed.name} / {step.id}", text) for text in texts(step))
    for entry in EMERGENCIES.entries:
        yield from ((f"emergency {entry.name}", text) for text in (*entry.acts, entry.why))
    yield "emergencies, ending", EMERGENCIES.ending
    for rule in RULES:
        yield from ((f"rule {rule.name}", text) for text in spoken_of(rule))


NEVER = (
    "no cold water",  # an injector delivers hot water
    "blower off",  # cannot be said back; the blower is shut
    "shut the blower",  # with the regulator shut too, the firehole throws flame
    "take the fire", "take it off", "let it down", "ease the fire",  # three ways to hear each
    "let the fire out", "fire out if",  # drawn, or left to die? "Let the fire die" is one act
    "ease the damper", "ease the blower",  # "ease" is for easing open
    "the glass must show the surface",  # full and empty look alike
    "gloves and glasses",  # the glass is the gauge glass
    "burning oil or spirit",  # "spirit" is not heard as fuel everywhere
    "nip the gland",  # a fitting that may hold boiler pressure
)  # fmt: skip


@pytest.mark.parametrize("words", NEVER)
def test_words_that_are_never_said(words: str) -> None:
    assert [where for where, text in everything() if words in text.lower()] == []


ALL_WITH_GEAR = [PHASES[p] for p in Phase if any(s.asks == "gear" for s in PHASES[p].steps)]
ALL_WITH_GEAR += [TAKING_OVER]


def test_the_lists_that_ask_for_the_gear() -> None:
    assert {c.name for c in ALL_WITH_GEAR} == {
        "preparation", "tick_over", "standing_by", "putting_away", "taking_over",
    }  # fmt: skip


@pytest.mark.parametrize("listed", ALL_WITH_GEAR, ids=lambda c: c.name)
def test_brake_and_chocks_come_before_the_gear(listed: Checklist) -> None:
    asked = [step.asks for step in listed.steps]
    assert asked.index("brake") < asked.index("gear")
    brake = listed.steps[asked.index("brake")]
    assert brake.kind == "state", "not closed by a bare done"
    assert {r.state: r.passes for r in brake.replies} == {
        "on and chocked": True, "on": False, "not chocked": False,
    }  # fmt: skip
    gear = listed.steps[asked.index("gear")]
    then = next(r.then for r in gear.replies if r.state == "in")
    assert then.lower().index("brake") < then.lower().index("out of gear")


@pytest.mark.parametrize("phase", [Phase.PREPARATION, Phase.TICK_OVER, Phase.PUTTING_AWAY])
def test_brake_and_chocks_cannot_be_skipped(phase: Phase) -> None:
    assert next(s for s in PHASES[phase].steps if s.asks == "brake").killer


@pytest.mark.parametrize(
    ("listed", "step"),
    [
        (PHASES[Phase.FIRING], "wood bed"),
        (PHASES[Phase.RAISING_STEAM], "wood to coal"),
        (cure("pressure_hangs"), "state of the fire"),
        (cure("fire_trouble"), "thin the fire"),
    ],
    ids=lambda x: x if isinstance(x, str) else x.name,
)
def test_draught_comes_before_the_firehole_door(listed: Checklist, step: str) -> None:
    caution = listed.step(step).caution.lower()
    assert "blower" in caution and "before the firehole door" in caution


def test_the_blower_is_left_a_crack_open_near_the_wanted_pressure() -> None:
    step = PHASES[Phase.RAISING_STEAM].step("blower off")
    assert "blower down to a crack" in step.say.lower()
    assert {r.state: r.passes for r in step.replies} == {"crack": True, "shut": False}


def test_the_extension_comes_off_over_a_shut_firehole() -> None:
    step = PHASES[Phase.RAISING_STEAM].step("chimney extension off")
    assert step.caution.startswith("Firehole door shut, blower on.")


def test_the_chimney_is_tried_before_any_fluid_is_out() -> None:
    firing = PHASES[Phase.FIRING]
    assert firing.step("chimney draws").say.startswith("Before any fluid")
    ids = [s.id for s in firing.steps]
    assert ids.index("chimney draws") < ids.index("fire lit")


def test_the_smokebox_is_opened_only_over_a_dead_fire() -> None:
    warm = cure("fire_trouble").step("warm the chimney")
    assert warm.after == ("fire let die",)
    assert "only with the fire dead" in warm.caution.lower()


def test_no_hand_goes_near_what_steam_or_motion_may_drive() -> None:
    motion = PHASES[Phase.TICK_OVER]
    assert "regulator shut, drains open, mid gear" in motion.step("reverser forward").caution
    eased = motion.step("regulator eased").caution
    assert eased.index("wait") < eased.index("flat hand")
    assert motion.step("listen and feel").after == ("stopped to feel",)
    assert motion.step("stopped to feel").say.startswith("Stop her")
    assert motion.step("stopped to feel").hold
    feed = PHASES[Phase.PUMPING]
    assert "feel" not in feed.step("glass watched").say.lower()
    assert feed.step("delivery pipe").say.startswith("Hand near the pipe")


def test_a_feed_is_proved_by_two_readings_and_by_no_word() -> None:
    pumping = PHASES[Phase.PUMPING]
    proof = pumping.step("feed proved")
    assert (proof.asks, proof.kind, proof.killer, proof.hold) == ("water", "value", True, True)
    assert proof.gain_on == "water before feeding"
    assert not any(s.must for s in pumping.steps if s.asks in ("delivery", "pipe", "feed"))
    assert "proved" not in pumping.closing.lower()


def test_nothing_is_taken_apart_under_pressure() -> None:
    for name, step in (
        ("injector_trouble", "clack not seating"),
        ("pump_trouble", "tap the valve box"),
        ("pump_trouble", "tap the clack"),
    ):
        assert cure(name).step(step).caution == "Take nothing apart under pressure."
    assert "without pressure" in cure("pump_trouble").step("packing").say
    ids = [s.id for s in cure("pump_trouble").steps]
    assert ids.index("clack stop valve") < ids.index("tap the clack")


def test_the_feed_is_stopped_for_steam_only_after_the_water_was_read() -> None:
    hangs = cure("pressure_hangs")
    assert hangs.step("feed too cold").after == ("water before less feed",)
    water = hangs.step("water before less feed")
    assert (water.asks, water.kind, water.killer) == ("water", "value", True)


def test_after_priming_the_water_is_read() -> None:
    water = cure("priming").step("true level")
    assert (water.asks, water.kind, water.killer, water.hold) == ("water", "value", True, True)
    ids = [s.asks for s in cure("priming").steps]
    assert ids[0] == "drains", "the cocks first, to save the covers"


def test_a_banked_fire_is_a_fire() -> None:
    away = PHASES[Phase.PUTTING_AWAY]
    states = {r.state: r for r in away.step("fire run down").replies}
    assert not states["banked"].passes and states["banked"].then == (
        "Banked is a fire. Somebody stays."
    )
    dead = away.step("fire dead")
    assert dead.hold and not next(r for r in dead.replies if r.state == "burning alone").passes
    assert away.step("damper and chimney").after == ("fire dead",)
    assert away.step("damper and chimney").say.startswith("Fire dead")
    assert away.closing.startswith("Fire dead, gauge at nothing?")


def test_blowing_down_says_where_the_water_goes() -> None:
    assert PHASES[Phase.PUTTING_AWAY].step("blow-down").caution == (
        "Scalding water: who stands where it goes? Never empty her hot."
    )


def test_a_plug_is_opened_only_without_pressure_and_without_vacuum() -> None:
    step = PHASES[Phase.PREPARATION].step("filled to the cold mark")
    assert step.caution == "Gauge at nothing, vent open, before any plug."


@pytest.mark.parametrize("listed", SHIPPED, ids=lambda c: c.name)
def test_a_glass_that_looks_full_may_be_empty(listed: Checklist) -> None:
    for step in listed.steps:
        if step.asks == "water" and step.limits is not None:
            highest = step.limits.at_most
            if highest is not None and not highest.figure:
                assert "full, or empty?" in step.limits.too_high.lower(), step.id


def test_no_alarm_says_that_all_is_well_or_stops_at_a_full_glass() -> None:
    assert BY_NAME["glass full"].text == "Warning. Glass full, or empty? Blow through."
    assert BY_NAME["water out of sight"].end_text == "water shows. Not safe yet: prove the glass"


@pytest.mark.parametrize("name", ["water out of sight", "over-pressure"])
def test_the_gravest_end_with_an_examination(name: str) -> None:
    entry = EMERGENCIES.called(name)
    assert entry is not None
    assert entry.acts[0].startswith("Damper shut, blower shut. No firing.")
    assert entry.acts[-1].endswith("No steam until it is examined.")


ORDER: dict[str, tuple[str, ...]] = {
    "preparation": (
        "water in the glass", "brake and chocks", "out of gear", "regulator shut", "drains open",
        "papers and protection", "gloves and eyes", "tight all round",
        "plug and firebox", "blow-down shut",
        "safety valve lever free", "safety valve free", "gauge at zero", "glass proved cold",
        "try cocks", "glass protector", "filled to the cold mark", "ash pan and bars",
        "tubes and smokebox", "tank full",
        "strainer and bypass", "oiled round", "greased round", "extinguisher to hand",
        "fuel to hand", "barrier up",
    ),
    "firing": (
        "water before the match", "damper open", "air let out", "chimney extension on",
        "chimney draws", "fire lit", "wood bed", "water with the fire in",
    ),
    "tick_over": (
        "water before moving", "brake before motion", "out of gear", "everyone clear",
        "drains before motion", "reverser forward", "regulator eased", "dry steam", "drains shut",
        "lubricator moving", "stopped to feel", "listen and feel",
    ),
    "pumping": (
        "water before feeding", "tank before feeding", "turning for the pump", "bypass shut",
        "feed started", "glass watched", "feed proved", "delivery pipe", "bypass open again",
        "feed stopped",
    ),
    "standing_by": (
        "water well up", "regulator to stand", "brake to stand", "gear to stand",
        "secured to stand", "damper shut to stand", "watch kept", "feed in good time",
    ),
    "putting_away": (
        "water to the upper mark", "secured for the night", "brake for the night",
        "gear for the night", "drains open for the night", "fire run down", "fire dead",
        "damper and chimney", "blow-down", "ash out", "drained against frost",
        "boiler against frost", "what to mend", "log signed",
    ),
    "taking_over": (
        "water on taking over", "glass on taking over", "gauge on taking over",
        "valve on taking over", "fire on taking over", "feed on taking over",
        "regulator on taking over", "brake on taking over", "gear on taking over",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", ORDER)
def test_the_order_of_the_trade(name: str) -> None:
    listed = next(c for c in SHIPPED if c.name == name)
    assert tuple(step.id for step in listed.steps) == ORDER[name]
