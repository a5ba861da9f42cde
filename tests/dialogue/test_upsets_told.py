"""Upsets through the whole session: one first cause within one reading, its grade, its words."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from session_story import Story, in_steam

from assistant.messages import (
    AlarmChanged,
    DeviceLost,
    Effect,
    Fault,
    Grade,
    Heard,
    Hush,
    ReadingAccepted,
    ReadingDoubted,
    ReadingRefused,
    Say,
    Tone,
)

D, W, C = Grade.DANGER, Grade.WARNING, Grade.CAUTION
WORDS = 8  # an alarm in at most so many words: 3.7 s at 130 words a minute


def raised(effects: list[Effect]) -> list[tuple[str, Grade]]:
    """What sounded, in order: alarms that were raised and spoken."""
    return [
        (e.name, e.grade) for e in effects if isinstance(e, AlarmChanged) and e.state == "raised"
    ]


def steady(story: Story, minutes: int, water: str, pressure: str = "pressure sixty") -> None:
    """Readings as they are called, all well, every two minutes."""
    for _ in range(minutes // 2):
        story.say(pressure, after_s=60)
        story.say(water, after_s=60)


def coaled() -> Story:
    """Sixty pounds, coal on, blower and damper as they are when steam is raised."""
    story = in_steam()
    story.through("fire is built", "coal on", "blower half open", "damper wide open")
    return story


def bypass_open() -> list[Effect]:
    story = coaled()
    story.say("water five eighths", after_s=60)
    story.say("feed is on", after_s=10)
    return story.say("water half", after_s=120)


def ball_stuck() -> list[Effect]:
    story = coaled()
    story.say("bypass shut", after_s=20)
    story.say("water half", after_s=30)
    story.say("pressure sixty", after_s=100)
    return story.say("water three eighths", after_s=60)


def lost_prime() -> list[Effect]:
    story = coaled()
    story.say("feed is on", after_s=20)
    story.say("water half", after_s=70)
    return story.say("water three eighths", after_s=150)


def gauge_cock_shut() -> list[Effect]:
    story = coaled()
    steady(story, 4, "water half")
    story.say("valve is lifting", after_s=20)
    return [*story.effects, *story.say("pressure sixty", after_s=20)]


def valve_early() -> list[Effect]:
    story = coaled()
    story.say("pressure seventy", after_s=100)
    return story.say("valve is feathering", after_s=20)


def valve_late() -> list[Effect]:
    story = in_steam(pressure="pressure one forty")
    story.through("fire is built", "coal on", "blower shut", "damper shut")
    story.say("pressure one fifty five", after_s=200)
    if story.session.state.doubt:
        story.say("correct", after_s=3)
    return story.effects


def valve_not_at_all() -> list[Effect]:
    story = in_steam(pressure="pressure one forty")
    story.through("fire is built", "coal on", "blower shut", "damper shut")
    story.say("water half", after_s=60)
    story.say("pressure one sixty", after_s=240)
    if story.session.state.doubt:
        story.say("correct", after_s=3)
    return story.effects


def runs_up() -> list[Effect]:
    story = in_steam(pressure="pressure one fifteen")
    story.through("fire is built", "coal on", "damper wide open")
    story.say("water half", after_s=60)
    return story.say("pressure one twenty five", after_s=100)


def fire_dies() -> list[Effect]:
    story = coaled()
    steady(story, 10, "water half")
    return story.say("pressure fifty", after_s=120)


def forgotten() -> list[Effect]:
    story = in_steam()
    story.say("pressure sixty five", after_s=200)
    return story.wait(110)


def pressure_forgotten() -> list[Effect]:
    story = in_steam()
    for _ in range(2):
        story.say("water half", after_s=230)
    return [e for _ in range(6) for e in story.say("water half", after_s=30)]


def out_of_sight() -> list[Effect]:
    story = coaled()
    return story.say("no water in sight", after_s=120)


def at_the_mark() -> list[Effect]:
    story = coaled()
    return story.say("water one quarter", after_s=240)


def over_filled() -> list[Effect]:
    story = coaled()
    story.say("feed is on", after_s=60)
    story.say("water three quarters", after_s=200)
    return story.say("water full", after_s=200)


def near_the_top() -> list[Effect]:
    story = coaled()
    story.say("feed is on", after_s=60)
    story.say("water three quarters", after_s=200)
    return story.say("water seven eighths", after_s=120)


def tank_empty() -> list[Effect]:
    return coaled().say("tank empty", after_s=60)


def blower_left_on() -> list[Effect]:
    story = in_steam(pressure="pressure one fifteen")
    story.through("fire is built", "coal on", "damper half open", "blower half open")
    story.say("water half", after_s=60)
    return story.say("pressure one twenty", after_s=100)


def motionless() -> list[Effect]:
    """From cold to ninety pounds water swells; a glass that stands still is choked."""
    story = in_steam(pressure="pressure zero")
    story.through("fire is built", "blower half open", "damper wide open")
    for pressure in ("five", "twenty", "thirty five", "fifty", "seventy", "ninety"):
        story.say(f"pressure {pressure}", after_s=120)
        story.say("water half", after_s=120)
        if raised(story.effects):
            break
    return story.effects


def microphone() -> list[Effect]:
    story = coaled()
    return story.event(DeviceLost(story.at + 1, "microphone", "no sound for 2 s"))


def speaker() -> list[Effect]:
    story = coaled()
    return story.event(DeviceLost(story.at + 1, "speaker", "a sentence failed"))


def called(words: str) -> Callable[[], list[Effect]]:
    return lambda: coaled().say(words, after_s=30)


UPSETS: dict[str, tuple[Callable[[], list[Effect]], str, Grade, str]] = {
    "bypass open, feed on": (
        bypass_open, "water falling with feed on", W,
        "Warning. Water falling, feed on. Check the feed."),
    "ball stuck": (
        ball_stuck, "water falling with feed on", W,
        "Warning. Water falling, feed on. Check the feed."),
    "lost prime": (
        lost_prime, "water falling with feed on", W,
        "Warning. Water falling, feed on. Check the feed."),
    "gauge cock shut": (
        gauge_cock_shut, "gauge and valve disagree", W,
        "Warning. Gauge and valve disagree. Stop and settle."),
    "valve early": (
        valve_early, "gauge and valve disagree", W,
        "Warning. Gauge and valve disagree. Stop and settle."),
    "valve late": (
        valve_late, "over-pressure", D, "Danger. Pressure above the lift. Stop the heat."),
    "valve not at all": (
        valve_not_at_all, "over-pressure", D, "Danger. Pressure above the lift. Stop the heat."),
    "pressure runs up": (
        runs_up, "pressure above working", W,
        "Warning. Pressure high and rising. Shut the damper."),
    "fire dies after coaling": (
        fire_dies, "pressure falling", C, "Caution. Pressure falling. Look at the fire."),
    "reading forgotten": (
        forgotten, "water reading overdue", W,
        "Warning. Water reading overdue. Where is the water?"),
    "pressure forgotten": (
        pressure_forgotten, "pressure reading overdue", C,
        "Caution. Pressure reading overdue. What does it show?"),
    "no water in sight": (
        out_of_sight, "water out of sight", D, "Danger. No water in sight. Stop the heat."),
    "water at the mark": (
        at_the_mark, "low water", D, "Danger. Water low. Stop the heat."),
    "over-filled": (
        over_filled, "glass full", W, "Warning. Glass full. Stop feeding."),
    "near the top": (
        near_the_top, "water near the upper mark", C, "Caution. Water near upper mark. No feed."),
    "tank empty": (tank_empty, "tank empty", W, "Warning. Tank empty. Fill it now."),
    "blower left on": (
        blower_left_on, "blower left on", C, "Caution. Blower still on. Shut it."),
    "glass motionless": (
        motionless, "glass motionless", W, "Warning. Glass not moving. Blow it through."),
    "microphone lost": (
        microphone, "microphone lost", W, "Warning. I cannot hear you. Check the microphone."),
    "speaker lost": (speaker, "speaker lost", W, "Warning. Speaker lost. Watch the screen."),
    "steam escaping": (
        called("steam escaping"), "steam escaping", D, "Danger. Steam escaping. Stand clear."),
    "glass broken": (
        called("glass broken"), "glass broken", D, "Danger. Glass broken. Face away."),
    "someone hurt": (
        called("someone is hurt"), "someone hurt", D,
        "Danger. Someone hurt. Regulator shut, call help."),
    "fire outside": (
        called("fire outside"), "fire outside", D, "Danger. Fire outside. Everybody back."),
}  # fmt: skip


@pytest.mark.parametrize("upset", UPSETS)
def test_one_first_cause_at_once_with_its_grade_and_words(upset: str) -> None:
    story, name, grade, words = UPSETS[upset]
    effects = story()
    assert not [e for e in effects if isinstance(e, Fault)]
    tones = [e.grade for e in effects if isinstance(e, Tone)]
    told = [e.text for e in effects if isinstance(e, Say) and e.text.startswith(grade.name.title())]
    assert tones == [grade]
    assert told == [words]
    assert (name, grade) in raised(effects)
    assert len(re.findall(r"[A-Za-z'-]+", words)) <= WORDS


@pytest.mark.parametrize("upset", [u for u in UPSETS if UPSETS[u][2] is D])
def test_a_danger_cuts_what_is_being_said_and_sounds_before_any_word(upset: str) -> None:
    kinds = [type(effect) for effect in UPSETS[upset][0]()]
    assert kinds.index(Hush) < kinds.index(Tone) < kinds.index(Say)


def test_while_a_danger_stands_the_list_rests_and_goes_on_after_it() -> None:
    story = coaled()
    story.say("water one quarter", after_s=200)
    step = story.session.state.progress.asked
    story.say("understood")
    said = [e.text for e in story.wait(100) if isinstance(e, Say)]
    assert set(said) <= {"Where is the water?", "What is the pressure?"}
    for words in ("water half", "water half"):
        story.say(words, after_s=20)
    said = " ".join(story.said())
    assert "Water above the mark again." in said and "Raising steam." in said
    assert story.session.state.progress.asked == step


def test_a_talk_beside_the_engine_in_the_middle_of_a_reading_changes_nothing() -> None:
    story = coaled()
    while story.session.state.reading_asked != "pressure":
        story.wait(5)
        if story.session.state.reading_asked == "water":
            story.say("water half")
    before = story.session.state
    expected = story.session.expected
    story.event(Heard(story.at + 1, "test", (), -9.0, -4.0, 2.0, "nice engine mister"))
    assert story.effects == []
    assert story.session.expected == expected
    assert story.session.state.reports == before.reports
    story.say("seventy")
    assert [a.report.value for a in story.got(ReadingAccepted)] == [70.0]


@pytest.mark.parametrize(
    ("words", "kind"),
    [("sixty bar", ReadingRefused), ("pressure nine bar", ReadingDoubted)],
)
def test_the_wrong_unit_is_not_entered(words: str, kind: type[Effect]) -> None:
    story = coaled()
    story.say(words, after_s=60)
    assert [type(e) for e in story.effects if isinstance(e, kind | ReadingAccepted)] == [kind]
    assert not raised(story.effects)
    assert story.session.state.latest("pressure").report.value == 60.0


def test_two_contradictory_readings_are_settled_by_asking() -> None:
    story = coaled()
    story.say("pressure ninety five", after_s=30)
    assert story.got(ReadingDoubted) and not story.got(ReadingAccepted)
    story.say("wrong, sixty five")
    assert story.session.state.latest("pressure").report.value == 65.0
    assert not raised(story.effects)


def test_two_glasses_that_contradict_each_other_and_the_lower_one_counts() -> None:
    story = coaled()
    story.say("water five eighths", after_s=60)
    story.say("water one quarter", after_s=10)
    if story.session.state.doubt:
        assert story.got(ReadingDoubted)
        story.say("correct", after_s=3)
    assert raised(story.effects) == [("low water", D)]


@pytest.mark.parametrize(("mark", "name"), [(0.85, "water near the upper mark"), (0.25, "low")])
def test_a_glass_that_hunts_round_a_limit_raises_its_alarm_once(mark: float, name: str) -> None:
    from assistant.messages import Report

    story = coaled()
    story.say("water half", after_s=60)
    came: list[Effect] = []
    for turn in range(12):
        level = round(mark + (0.005 if turn % 2 else -0.005), 3)
        came += story.sound((Report("water", level, "glass"), 0.99), after_s=60)
        if story.session.state.doubt:
            came += story.say("correct", after_s=2)
        came += story.say("pressure sixty", after_s=30)
    names = [n for n, _ in raised(came) if name in n]
    assert len(names) == 1, raised(came)


def test_a_gauge_that_hunts_round_working_pressure_raises_each_alarm_once() -> None:
    from assistant.messages import Report

    story = in_steam(pressure="pressure one fifteen")
    story.through("fire is built", "coal on", "damper wide open", "blower half open")
    came: list[Effect] = []
    for turn in range(12):
        psi = 120.6 if turn % 2 else 119.4
        came += story.sound((Report("pressure", psi, "psi"), 0.99), after_s=60)
        if story.session.state.doubt:
            came += story.say("correct", after_s=2)
        came += story.say("water half", after_s=30)
    names = [n for n, _ in raised(came)]
    assert len(names) == len(set(names)), names
