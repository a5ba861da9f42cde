"""A fire is reported and nobody has called the water."""

from __future__ import annotations

import pytest
from session_story import Story

from assistant.messages import AlarmChanged, Grade, Say, Tone


def test_it_is_a_warning_at_once_and_a_danger_after_three_minutes() -> None:
    story = Story()
    story.say("fire lit")
    assert [(a.name, a.grade) for a in story.got(AlarmChanged)] == [
        ("fire in, water not seen", Grade.WARNING)
    ]
    assert "Warning. Fire in, water unseen. Where is it?" in " ".join(story.said())
    came = story.wait(185.0)
    assert any(isinstance(e, AlarmChanged) and e.grade is Grade.DANGER for e in came)
    texts = [e.text for e in came if isinstance(e, Say)]
    assert any("Danger. Fire in, water unseen. Stop the heat." in text for text in texts)


def test_it_is_said_again_every_minute_until_the_water_is_called() -> None:
    story = Story()
    story.say("fire lit")
    story.wait(185.0)
    came = story.wait(300.0)
    assert sum(isinstance(e, Tone) for e in came) >= 5
    story.say("water half")
    standing = {a.name for a in story.session.state.watch.alarms}
    assert not {name for name in standing if name.startswith("fire in")}


@pytest.mark.parametrize("fire", ["coal on the fire", "fire built", "fire banked"])
def test_any_fire_will_do(fire: str) -> None:
    story = Story(from_phase="raising steam")
    story.say(fire)
    assert any(a.name == "fire in, water not seen" for a in story.got(AlarmChanged))


def test_with_the_water_called_before_it_is_an_ordinary_fire() -> None:
    story = Story()
    story.through("water half", "fire lit")
    assert story.got(AlarmChanged) == []


def test_water_out_of_sight_is_the_graver_alarm() -> None:
    story = Story()
    story.through("fire lit", "no water in sight", "that's right")
    standing = {a.name for a in story.session.state.watch.alarms}
    assert "water out of sight" in standing
    assert "fire in, water never seen" not in standing
