"""Our deafness is not his silence: three utterances that are not understood are told as such."""

from __future__ import annotations

from session_story import Story, in_steam, parts

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Alternative, Heard, Report, Tick

WORDS = "I cannot hear you. Look at the glass; press or type."


def away(story: Story) -> bool:
    session = story.session
    return picture_now(EventContext(parts(), session.state, Tick(story.at))).person.away


def deaf() -> Story:
    story = in_steam()
    story.wait(parts().engine.water_interval_s)
    for _ in range(3):
        badly(story)
    return story


def badly(story: Story) -> None:
    """A sentence that may have been one of ours, and sounded like none."""
    story.at += 5.0
    found = (Alternative(Report("pressure", 70.0, "psi"), "seven zero", 0.9),)
    story.event(Heard(story.at, "test", found, log_ratio=-8.0, average=-2.2))


def test_the_third_is_answered_with_what_to_do_instead() -> None:
    story = deaf()
    assert story.said() == [WORDS]


def test_it_is_said_once() -> None:
    story = deaf()
    badly(story)
    assert WORDS not in story.said()


def test_he_is_not_called_away_and_the_readings_go_on_growing_late() -> None:
    story = deaf()
    story.wait(3.0 * parts().engine.water_interval_s)
    assert not away(story)
    assert "water not read" in {alarm.name for alarm in story.session.state.watch.alarms}


def test_one_that_is_understood_ends_it() -> None:
    story = deaf()
    story.say("water half")
    for _ in range(2):
        badly(story)
    assert WORDS not in story.said()
    badly(story)
    assert story.said() == [WORDS]
