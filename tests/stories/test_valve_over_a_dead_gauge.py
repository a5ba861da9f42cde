"""The safety valve lifts while the gauge was called at nothing: the valve is believed."""

from __future__ import annotations

import pytest
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


@pytest.mark.parametrize("words", ["wrong", "no it isn't", "undo that"])
def test_withdrawn_as_misheard_it_is_asked_about_and_then_never_was(words: str) -> None:
    story = over_a_dead_gauge()
    story.say(words, after_s=5.0)
    assert "The valve did not lift: is that right?" in story.text()
    assert NAME in {a.rule.name for a in story.session.state.watch.alarms}
    story.say("yes", after_s=5.0)
    assert NAME not in {a.rule.name for a in story.session.state.watch.alarms}


def standing(story: Story) -> set[str]:
    return {alarm.name for alarm in story.session.state.watch.alarms if not alarm.suppressed}


def test_once_the_heat_is_stopped_it_goes_on_as_a_warning_and_the_list_is_offered() -> None:
    story = over_a_dead_gauge()
    story.say("damper shut", after_s=20.0)
    assert standing(story) - {"water reading overdue"} == {"gauge and valve unsettled"}
    assert "Warning. Gauge not proved. Gauge cock open?" in story.said()
    story.say("water half")
    story.wait(120.0)
    assert "Say gauge trouble, and we find which is wrong." in story.said()
    story.say("gauge trouble")
    assert "Gauge cock: open, or shut?" in story.text()


def test_more_heat_makes_it_a_danger_again() -> None:
    story = over_a_dead_gauge()
    story.say("damper shut", after_s=20.0)
    story.say("damper wide open", after_s=60.0)
    assert NAME in standing(story)


def test_a_gauge_that_fits_ends_the_warning_too_and_says_so_once() -> None:
    story = over_a_dead_gauge()
    story.say("damper shut", after_s=20.0)
    story.say("valve is lifting", after_s=600.0)
    story.say("pressure one hundred and forty", after_s=20.0)
    said = story.text()
    story.say("that's right")
    assert (said + story.text()).count("Gauge fits the valve.") == 1
    assert "gauge and valve unsettled" not in standing(story)


def test_a_gauge_called_long_before_is_asked_for_as_the_valve_moves() -> None:
    story = in_steam(pressure="pressure one hundred")
    story.wait(400.0)
    story.say("water half")
    story.say("valve is lifting")
    assert "What does the gauge show?" in story.said()
    assert raised(story) == []
    assert "gauge not read at the valve" in {a.name for a in _raised_in(story, 65.0)}
    assert "valve over an unread gauge" in {a.name for a in _raised_in(story, 60.0)}
    story.say("one hundred and thirty five")
    assert standing(story).isdisjoint({"gauge not read at the valve", "valve over an unread gauge"})


def _raised_in(story: Story, seconds: float) -> list[AlarmChanged]:
    story.wait(seconds)
    return [alarm for alarm in story.got(AlarmChanged) if alarm.state == "raised"]


def test_a_gauge_called_in_time_raises_nothing() -> None:
    """Neighbour: it was asked for, and called."""
    story = in_steam(pressure="pressure one hundred")
    story.wait(400.0)
    story.through("water half", "valve is lifting", "pressure one hundred and thirty five")
    assert not _raised_in(story, 120.0)


def test_a_named_person_owns_the_valves_figure_for_the_day() -> None:
    story = in_steam(pressure="pressure one hundred")
    story.say("valve is lifting", after_s=20.0)
    story.say("valve is set at ninety eight")
    assert "Who says so? Say the name." in story.said()
    assert "gauge and valve disagree" in standing(story), "not before there is a name"
    story.say("Walter Brown")
    assert standing(story) == set()
    assert "Gauge fits the valve." not in story.text(), "nobody has seen that"
    story.through("valve is shut", "pressure one hundred", "valve is lifting")
    assert raised(story) == []


def test_a_figure_ends_no_danger() -> None:
    story = over_a_dead_gauge()
    story.say("valve is set at ninety")
    story.say("Walter Brown")
    assert NAME in standing(story)


def test_no_move_that_wants_steam_is_made_while_they_disagree() -> None:
    story = in_steam(pressure="pressure one hundred")
    story.say("standing by now")
    story.say("valve is lifting", after_s=10.0)
    story.say("moving off again")
    assert "Not while gauge and valve disagree." in story.said()
    assert not any("Moving off" in text for text in story.said())
