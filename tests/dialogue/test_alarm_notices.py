"""Alarms through the whole session: one first cause within one reading, its grade, its words."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from session_story import Story, in_steam, steaming, texts, warm_engine

from assistant.alarms.rules import BY_NAME
from assistant.messages import (
    AlarmChanged,
    DeviceBack,
    DeviceLost,
    Effect,
    Fault,
    Grade,
    Heard,
    Hush,
    ReadingAccepted,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Resumed,
    Say,
    Tone,
    Urgency,
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
    story.say("pressure eighty", after_s=100)
    story.say("pressure one hundred and two", after_s=150)
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
    return story.wait(120)


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
    story = Story()
    story.through("water half", "pressure zero", "fire lit")
    for pressure in ("zero", "zero", "five", "twenty", "thirty five", "fifty", "seventy", "ninety"):
        story.say(f"pressure {pressure}", after_s=240)
        story.say("water half", after_s=10)
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
        ball_stuck, "no feed, water falling", D,
        "Danger. No feed, water falling. Damper shut now. Blower shut, no firing."),
    "lost prime": (
        lost_prime, "no feed, water falling", D,
        "Danger. No feed, water falling. Damper shut now. Blower shut, no firing."),
    "gauge cock shut": (
        gauge_cock_shut, "valve over a dead gauge", D,
        "Danger. Valve lifts, gauge low. Stop the heat."),
    "valve early": (
        valve_early, "gauge and valve disagree", W,
        "Warning. Gauge and valve disagree. Stop the heat."),
    "valve late": (
        valve_late, "over-pressure", D, "Danger. Pressure above the lift. Stop the heat."),
    "valve not at all": (
        valve_not_at_all, "over-pressure", D, "Danger. Pressure above the lift. Stop the heat."),
    "pressure runs up": (
        runs_up, "pressure above working", W,
        "Warning. Pressure high. Damper shut, blower down."),
    "fire dies after coaling": (
        fire_dies, "pressure falling", C, "Caution. Pressure falling. Blower on, then look."),
    "reading forgotten": (
        forgotten, "water reading overdue", W,
        "Warning. Water reading overdue. Where is the water?"),
    "pressure forgotten": (
        pressure_forgotten, "pressure reading overdue", C,
        "Caution. Pressure reading overdue. What does it show?"),
    "no water in sight": (
        out_of_sight, "water out of sight", D, "Danger. Stop the heat. No water in sight."),
    "water at the mark": (
        at_the_mark, "low water", D, "Danger. Water low. Stop the heat."),
    "over-filled": (
        over_filled, "glass full", W, "Warning. Glass full, empty? Feed off, blow through."),
    "near the top": (
        near_the_top, "water near the upper mark", C, "Caution. Water near upper mark. No feed."),
    "tank empty": (tank_empty, "tank empty", W, "Warning. Tank empty. Fill it now."),
    "blower left on": (
        blower_left_on, "blower left on", C, "Caution. Blower still on. Down to a crack."),
    "glass motionless": (
        motionless, "glass motionless", W, "Warning. Glass not moving. Blow it through."),
    "microphone lost": (
        microphone, "microphone lost", W,
        "Warning. I cannot hear you. Check the microphone. Look at the glass; press or type."),
    "speaker lost": (
        speaker, "speaker lost", W, "Warning. Speaker lost. Watch gauges, then screen."),
    "steam escaping": (
        called("steam escaping"), "steam escaping", D, "Danger. Stand clear. Steam escaping."),
    "glass broken": (
        called("glass broken"), "glass broken", D, "Danger. Face away. Glass broken."),
    "someone hurt": (
        called("someone is hurt"), "someone hurt", D,
        "Danger. Regulator shut, call help. Someone hurt."),
    "fire outside": (
        called("fire outside"), "fire outside", D, "Danger. Everybody back. Fire outside."),
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
    first = words.removesuffix(f" {BY_NAME[name].more}")
    assert len(re.findall(r"[A-Za-z'-]+", first)) <= WORDS


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
    for words in ("comes back at once", "water half"):
        story.say(words, after_s=50)
    said = " ".join(story.said())
    assert "Water above the mark again." in said
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
    assert story.acts() == []
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


def test_an_alarms_act_is_not_said_twice_running() -> None:
    story = in_steam()
    story.say("water one quarter")
    assert "Danger. Water low. Stop the heat. Damper shut, blower shut." in story.text()
    assert story.text().count("Stop the heat") == 1


def test_a_called_danger_ends_with_its_own_words_only() -> None:
    story = in_steam()
    story.say("someone is hurt")
    story.say("danger is over")
    assert [c.state for c in story.got(AlarmChanged)] == ["cleared"]
    assert "Danger is over." in story.text() and "cleared" not in story.text()


def test_with_the_fire_out_and_no_steam_no_reading_is_missed() -> None:
    story = warm_engine()
    story.say("putting her away")
    story.through("water seven eighths", "fire drawn")
    story.say("pressure zero", after_s=120)
    came = story.wait(3600, tick_s=30)
    raised = [e.name for e in came if isinstance(e, AlarmChanged) and e.state == "raised"]
    assert raised == []


def test_after_a_night_the_readings_are_asked_for_not_alarmed_about() -> None:
    story = warm_engine()
    story.at += 50_000
    story.event(Resumed(story.at, 50_000.0))
    assert not [c for c in story.got(AlarmChanged) if c.state == "raised"]
    story.say("water half")
    came = [*story.effects, *story.wait(60)]
    assert not [c for c in came if isinstance(c, AlarmChanged) and c.state == "raised"]
    assert "What is the pressure?" in [e.text for e in came if isinstance(e, Say)]


def test_what_is_heard_is_named_gravest_first() -> None:
    story = warm_engine()
    story.say("tank empty")
    story.say("steam escaping")
    story.say("understood")
    assert "Heard. Steam escaping, tank empty still stand." in story.said()


def test_low_water_sounds_before_anything_is_said_and_cuts_what_is_being_said() -> None:
    story = in_steam()
    story.wait(60)
    effects = story.say("no water in sight")
    kinds = [type(effect) for effect in effects]
    first_say = kinds.index(Say)
    assert kinds.index(Hush) < kinds.index(Tone) < first_say
    assert effects[kinds.index(Tone)].grade is Grade.DANGER
    assert effects[first_say].urgency is Urgency.DANGER
    assert effects[first_say].text.startswith("Danger.")
    raised = [a for a in story.got(AlarmChanged) if a.state == "raised"]
    assert {a.grade for a in raised} == {Grade.DANGER}
    assert not [a for a in story.wait(600) if isinstance(a, AlarmChanged) and a.state == "cleared"]


def test_an_overdue_water_reading_is_an_alarm_within_ten_seconds() -> None:
    story = in_steam()
    began = story.session.state.latest("water").at
    overdue: list[float] = []
    for _ in range(80):
        came = story.wait(5)
        overdue += [story.at for e in came if isinstance(e, AlarmChanged) and "water" in e.name]
    interval = story.session.state.progress.engine.water_interval_s
    assert overdue
    assert interval <= overdue[0] - began <= interval + 10


def test_the_microphone_lost_is_told() -> None:
    story = in_steam()
    story.event(DeviceLost(story.at + 1, "microphone", "no sound for 2 s"))
    assert any("cannot hear" in text.lower() for text in story.said())


def test_alarms_speak_in_the_quiet_that_was_asked_for() -> None:
    story = steaming()
    story.say("water half")
    story.say("wait ten minutes")
    assert any("Water reading overdue" in text for text in texts(story.wait(320)))


def test_a_device_is_told_once_when_it_goes_and_once_when_it_comes() -> None:
    story = steaming()
    lost = story.event(DeviceLost(story.at + 1, "microphone", "unplugged"))
    assert texts(lost) == [
        "Warning. I cannot hear you. Check the microphone. Look at the glass; press or type."
    ]
    back = story.event(DeviceBack(story.at + 2, "microphone"))
    assert texts(back)[:1] == ["Microphone back. I hear you again."]
    assert len([text for text in texts(back) if "icrophone" in text]) == 1
