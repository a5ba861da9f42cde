"""The gauge glass is broken, and a level is called."""

from __future__ import annotations

from day_story import taken_over
from session_story import Story, in_steam, texts

from assistant.messages import ReadingAccepted, ReadingDoubted


def broken() -> Story:
    story = in_steam()
    story.say("glass is broken")
    story.wait(10.0)
    return story


def test_a_level_from_it_is_asked_about_and_not_entered() -> None:
    story = broken()
    story.say("water half")
    assert [d.reason for d in story.got(ReadingDoubted)] == ["the glass is broken"]
    assert story.got(ReadingAccepted) == []


def test_by_the_other_glass_or_the_try_cocks_it_is_entered_after_a_yes() -> None:
    story = broken()
    story.say("water half")
    story.say("that's right")
    assert [a.report.value for a in story.got(ReadingAccepted)] == [0.5]


def test_no_water_in_sight_is_believed_from_anything() -> None:
    story = broken()
    story.say("no water in sight")
    story.say("that's right")
    assert "water out of sight" in {a.name for a in story.session.state.watch.alarms}


def test_a_word_makes_no_level_of_a_broken_glass_but_another_glass_does() -> None:
    story = broken()
    story.say("danger is over")
    assert story.said() == [
        "Heard. Glass broken still stands.",
        "Until a new glass is in, and blown through.",
    ]
    story.say("water half", after_s=30.0)
    assert story.got(ReadingDoubted)
    story.through("new glass is in", "comes back at once")
    story.say("water half", after_s=30.0)
    assert story.got(ReadingDoubted) == []


def test_nobody_is_asked_to_read_it_and_that_the_water_is_unread_is_kept() -> None:
    story = broken()
    said = [text for _ in range(200) for text in texts(story.wait(5.0))]
    assert not [text for text in said if "Water" in text or "water" in text], set(said)
    assert "Danger. Face away. Glass broken." in said
    story.say("danger is over")
    assert "water not read" in story.text() and "still stand" in story.text()
    assert "Danger is over" not in story.text()


def test_the_cocks_that_were_shut_are_its_act() -> None:
    story = broken()
    story.say("both cocks shut")
    assert "Glass cocks shut." in story.said()
    said = [text for _ in range(24) for text in texts(story.wait(5.0))]
    assert "Danger. Face away. Glass broken." not in said, "done: not again within five minutes"


def test_over_the_lift_with_the_glass_broken_no_feed_is_spoken_of_as_an_act() -> None:
    story = broken()
    story.say("pressure one hundred and sixty")
    story.say("that's right")
    assert "Danger. Pressure above the lift. Stop the heat." in story.said()
    assert "feed" not in story.text().lower().replace("no feed", "")
    story.say("pressure one hundred and thirty", after_s=30.0)
    assert "Danger still. Call the gauge once more in a minute. Until then no heat." in story.said()


def test_a_new_glass_proved_before_it_is_said_to_be_over_is_proved() -> None:
    """The order in which a man does it: new glass, cocks open, blown through, then it is over."""
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    day.tell("1:00 glass broken\n1:30 glass cocks shut\n6:00 comes back at once\n6:20 water half")
    said = day.tell("6:25 that's right\n6:40 danger is over\n6:50")
    assert "Glass not proved" not in said
    assert "glass not proved" not in day.standing and not day.dangers


def test_proved_before_it_broke_proves_nothing_of_the_new_one() -> None:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    day.tell("0:55 comes back at once\n1:00 glass broken\n6:40 danger is over\n6:50")
    assert "glass broken" in day.dangers
    said = day.tell("7:00 new glass is in\n7:10")
    assert "glass broken" not in day.standing
    assert "Danger. Level unknown. Stop the heat. Damper shut." in said
    assert "blow it through, each way" in said


def test_one_that_failed_its_test_after_it_is_not_proved() -> None:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    day.tell("1:00 glass broken\n6:00 comes back at once\n6:20 glass comes back slowly")
    day.tell("6:40 danger is over\n6:50")
    assert "glass broken" in day.dangers
