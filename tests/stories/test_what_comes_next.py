"""Asked what comes next, it says what is wanted most, not where the list happens to be."""

from __future__ import annotations

from session_story import in_steam, parts, steaming

OVERDUE = "water reading overdue"


def test_a_water_reading_that_is_overdue_comes_before_the_list() -> None:
    story = in_steam()
    story.wait(parts().engine.water_interval_s + 30.0)
    assert OVERDUE in {alarm.name for alarm in story.session.state.watch.alarms}
    story.say("what next")
    assert story.text() == "Warning. Water reading overdue. Where is the water?"


def test_with_a_danger_its_acts_come_next() -> None:
    story = steaming()
    story.say("no water in sight")
    story.say("what next", after_s=40.0)
    assert "Damper shut" in story.text()
    assert "Blow" not in story.text()


def test_where_nothing_presses_it_is_the_step_of_the_list_with_its_caution() -> None:
    story = in_steam()
    story.say("what next")
    first = story.text()
    story.say("what next")
    assert story.text() == first != ""


def test_a_question_of_yes_or_no_that_is_open_is_put_again_instead() -> None:
    story = in_steam()
    story.say("pressure ten")  # from sixty, in seconds
    question = story.text()
    assert story.session.state.doubt is not None
    story.say("what next")
    assert story.session.state.doubt is not None
    assert story.said() == ["Pressure one zero, ten: is that right?"], question
