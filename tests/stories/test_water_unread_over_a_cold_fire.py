"""A fire in a cold boiler with the water known: it is asked for, warned of, then a danger."""

from __future__ import annotations

from session_story import Story, parts

from assistant.messages import AlarmChanged, Say


def lit() -> Story:
    story = Story()
    story.through("water half", "pressure zero", "fire lit")
    return story


def silent_for(story: Story, seconds: float) -> list[tuple[float, object]]:
    came: list[tuple[float, object]] = []
    began = story.at
    while story.at < began + seconds:
        came += [(story.at - began, effect) for effect in story.wait(5.0)]
    return came


def test_three_intervals_after_the_match_it_is_a_warning_and_after_six_a_danger() -> None:
    story = lit()
    interval = 3 * parts().engine.water_interval_s
    came = silent_for(story, 2.1 * interval)
    raised = {e.name: at for at, e in came if isinstance(e, AlarmChanged) and e.state == "raised"}
    asked = next(at for at, e in came if isinstance(e, Say) and "Where is the water?" in e.text)
    assert 0.75 * interval <= asked <= 0.9 * interval
    assert interval <= raised["water reading overdue"] <= interval + 10.0
    assert 2 * interval <= raised["water not read"] <= 2 * interval + 10.0


def test_a_call_of_the_pressure_ends_none_of_it() -> None:
    story = lit()
    silent_for(story, 7 * parts().engine.water_interval_s)
    story.say("pressure ten")
    assert "water not read" in {a.name for a in story.session.state.watch.alarms}
    story.say("water half")
    assert not story.session.state.watch.alarms


def test_going_on_from_raising_steam_does_not_make_the_water_newer() -> None:
    story = Story()
    for words in ("water half", "fire is lit"):
        story.say(words)
    story.wait(660.0)
    story.say("pressure forty")
    story.wait(75.0)
    overdue = {"water reading overdue", "water not read"}
    assert overdue & {alarm.name for alarm in story.session.state.watch.alarms}
    story.say("yes")
    assert story.session.state.phase.value == "raising steam"
    story.wait(10.0)
    assert overdue & {alarm.name for alarm in story.session.state.watch.alarms}
