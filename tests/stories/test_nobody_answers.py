"""With steam up and nobody answering, it becomes louder and does not go quiet."""

from __future__ import annotations

from itertools import pairwise

import pytest
from session_story import Story, in_steam, parts

from assistant.messages import AlarmChanged, Grade, Say, Tone

NAME = "water not read"


def silent_for(story: Story, minutes: float) -> list[tuple[float, object]]:
    """Nobody says a word; what came of it, with the seconds since the last word."""
    came: list[tuple[float, object]] = []
    began = story.at
    while story.at < began + 60.0 * minutes:
        came += [(story.at - began, effect) for effect in story.wait(5.0)]
    return came


def test_after_two_intervals_without_water_it_is_a_danger() -> None:
    story = in_steam()
    came = silent_for(story, 12.0)
    raised = {
        e.name: (at, e.grade)
        for at, e in came
        if isinstance(e, AlarmChanged) and e.state == "raised"
    }
    interval = parts().engine.water_interval_s
    assert raised["water reading overdue"][1] is Grade.WARNING
    at, grade = raised[NAME]
    assert grade is Grade.DANGER
    assert 2 * interval - 60.0 <= at <= 2 * interval + 10.0


def test_it_goes_on_for_an_hour_and_never_pauses_for_an_interval() -> None:
    story = in_steam()
    came = silent_for(story, 60.0)
    words = [at for at, e in came if isinstance(e, Say)]
    gaps = [later - earlier for earlier, later in pairwise(words)]
    assert max(gaps) < parts().engine.water_interval_s
    late = [at for at, e in came if isinstance(e, Tone) and e.grade is Grade.DANGER and at > 1800.0]
    assert len(late) >= 30, "tones of danger in the second half of the hour"


def test_a_call_of_the_water_ends_it_and_a_call_of_pressure_does_not() -> None:
    story = in_steam()
    silent_for(story, 12.0)
    story.say("pressure seventy")
    assert NAME in {a.name for a in story.session.state.watch.alarms}
    story.say("water half")
    assert NAME not in {a.name for a in story.session.state.watch.alarms}


@pytest.mark.parametrize(
    ("asked", "minutes"), [("wait sixty minutes", 60), ("wait ten minutes", 10)]
)
def test_quiet_is_not_kept_for_longer_than_the_interval_with_a_fire_in(
    asked: str, minutes: int
) -> None:
    story = in_steam()
    story.say("fire is lit")
    story.say(asked)
    assert story.said() == ["Not so long with a fire in. Five minutes."]
    came = silent_for(story, minutes)
    first = next(at for at, e in came if isinstance(e, Say))
    assert first <= 330.0


def test_without_a_fire_quiet_is_kept_as_asked() -> None:
    story = Story()
    story.say("wait ten minutes")
    assert story.said() == ["Quiet for ten minutes. Alarms still speak."]


def test_water_that_was_seen_low_is_not_hidden_by_its_being_overdue() -> None:
    story = in_steam()
    story.say("water one eighth")
    came = silent_for(story, 25.0)
    raised = [e.name for _, e in came if isinstance(e, AlarmChanged) and e.state == "raised"]
    assert NAME in raised, "it was overdue for long enough"
    late = [e.text for at, e in came if at > 15 * 60.0 and isinstance(e, Say)]
    assert late.count("Danger. Water low. Stop the heat.") > 10
    assert "Danger. Water not read. Look at the glass." not in late


def test_water_never_seen_goes_on_telling_to_stop_the_heat() -> None:
    story = Story(from_phase="raising steam")
    story.say("that's right")
    story.say("pressure sixty")
    story.say("coal on the fire")
    came = silent_for(story, 25.0)
    late = [e.text for at, e in came if at > 15 * 60.0 and isinstance(e, Say)]
    assert late.count("Danger. Fire in, water unseen. Stop the heat.") > 10
    assert "Danger. Water not read. Look at the glass." not in late
