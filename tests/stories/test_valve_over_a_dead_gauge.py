"""The safety valve lifts while the gauge was called at nothing: the valve is believed."""

from __future__ import annotations

from session_story import Story, in_steam

from assistant.messages import AlarmChanged, ForecastMade

NAME = "valve over a dead gauge"
WORDS = "Danger. Valve lifts, gauge low. Stop the heat."


def raised(story: Story) -> list[str]:
    return [a.name for a in story.got(AlarmChanged) if a.state == "raised"]


def cleared(story: Story) -> list[str]:
    return [a.name for a in story.got(AlarmChanged) if a.state == "cleared"]


def over_a_dead_gauge() -> Story:
    story = in_steam(pressure="pressure zero")
    story.wait(300.0)
    story.say("valve is lifting")
    return story


def test_it_is_a_danger_in_the_event_that_reports_it() -> None:
    story = over_a_dead_gauge()
    assert raised(story) == [NAME]
    assert WORDS in " ".join(story.said())


def test_a_valve_that_shuts_again_settles_nothing_and_no_minutes_are_told() -> None:
    story = over_a_dead_gauge()
    story.say("valve is shut", after_s=60.0)
    assert NAME not in cleared(story)
    story.say("how long")
    (made,) = story.got(ForecastMade)
    assert (made.mid, made.why) == (None, "gauge and valve disagree")
    story.wait(900.0)
    story.say("pressure zero")
    assert NAME not in cleared(story)


def test_a_gauge_that_fits_the_moving_valve_ends_it() -> None:
    story = over_a_dead_gauge()
    story.say("pressure one hundred and forty", after_s=20.0)
    story.say("that's right")
    assert NAME not in {a.rule.name for a in story.session.state.watch.alarms}


def test_the_same_valve_at_its_own_pressure_is_a_normal_day() -> None:
    story = in_steam(pressure="pressure one hundred and thirty")
    story.say("valve is feathering", after_s=20.0)
    assert raised(story) == []


def test_under_the_feather_by_a_fifth_it_is_a_warning() -> None:
    """Neighbour: the gauge is not dead, but it and the valve do not belong together."""
    story = in_steam(pressure="pressure one hundred")
    story.say("valve is lifting", after_s=20.0)
    assert raised(story) == ["gauge and valve disagree"]


def test_withdrawn_as_misheard_it_never_was() -> None:
    story = over_a_dead_gauge()
    story.say("wrong", after_s=5.0)
    assert NAME not in {a.rule.name for a in story.session.state.watch.alarms}
