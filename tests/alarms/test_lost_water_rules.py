"""Alarms of water out of sight, doubted and lost, and of a glass that is not proved."""

from __future__ import annotations

import pytest
from alarm_story import Story, a_bright_fire  # type: ignore[import-not-found]

from assistant.messages import Grade

GONE = "Danger. Stop the heat. No water in sight."
DOUBTED = "Danger. Water doubted. No heat, no feed. Blow through."
STOP_FEED = "Danger. Stop the feed. Level unknown."
NOT_STEAMED = "Warning. Not to be steamed. Put her away."


@pytest.fixture
def lost() -> Story:
    story = a_bright_fire()
    story.at += 100
    assert story.water("out of sight") == [GONE]
    return story


def standing(story: Story) -> set[str]:
    return {alarm.name for alarm in story.watch.alarms}


def test_water_that_comes_back_is_doubted_and_the_grade_stays(lost: Story) -> None:
    lost.at += 60
    assert lost.water(0.5) == [DOUBTED]
    assert standing(lost) == {"water doubted"}
    ended = [c for _, c in lost.changes if c.state == "cleared"]
    assert [c.quiet for c in ended] == [True], "nobody says that water is above the mark"
    alarm = lost.alarm("water doubted")
    assert alarm is not None and alarm.rule.grade is Grade.DANGER
    assert alarm.rule.more == "Do not trust it. Then call it twice, a minute apart."


def test_doubt_ends_in_not_to_be_steamed_and_that_with_a_look_by_a_person(lost: Story) -> None:
    lost.at += 60
    lost.water(0.5)
    lost.at += 30
    assert lost.tell("glass", "comes back at once") == [], "one call is not two"
    lost.at += 60
    assert lost.water(0.5) == ["Danger. Not to be steamed. Stop the heat.", NOT_STEAMED]
    lost.tell("damper", "shut")
    lost.tell("blower", "shut")
    assert standing(lost) == {"not to be steamed"}
    lost.at += 240
    lost.tell("boiler", "looked at")
    assert "not to be steamed" in standing(lost), "not under steam"
    lost.tell("fire", "drawn")
    lost.psi(0)
    lost.tell("boiler", "looked at")
    assert "not to be steamed" not in standing(lost)


def test_water_that_goes_again_is_the_danger_again(lost: Story) -> None:
    lost.at += 60
    lost.water(0.5)
    lost.at += 60
    assert lost.water("out of sight") == [GONE]
    assert standing(lost) == {"water out of sight"}


def test_a_level_that_does_not_agree_stays_doubted(lost: Story) -> None:
    lost.at += 60
    lost.water(0.5)
    lost.tell("glass", "comes back at once")
    lost.at += 70
    assert lost.water(0.75) == []
    assert standing(lost) == {"water doubted"}


def test_feed_put_on_after_it_was_lost(lost: Story) -> None:
    lost.at += 20
    assert lost.state("feed", "on") == [STOP_FEED]
    lost.at += 20
    lost.state("feed", "off")
    assert "feed after lost water" not in standing(lost)


def test_feed_that_was_on_has_a_minute_to_be_stopped(steaming: Story) -> None:
    steaming.state("feed", "on")
    steaming.at += 50
    assert GONE in steaming.water("out of sight")
    assert STOP_FEED not in steaming.pass_s(50)
    assert STOP_FEED in steaming.pass_s(20)


def test_a_fire_made_after_it_was_lost(lost: Story) -> None:
    lost.at += 60
    assert lost.state("fire", "drawn") == []
    lost.at += 60
    assert lost.state("fire", "lit") == ["Danger. No fire, no steam. Water was lost."]


def test_a_broken_glass_hides_no_water_out_of_sight(steaming: Story) -> None:
    steaming.tell("emergency", "glass broken")
    steaming.at += 60
    assert GONE in steaming.water("out of sight")


def test_a_new_glass_is_to_be_proved_and_feed_waits_for_it(steaming: Story) -> None:
    steaming.call("glass broken")
    steaming.at += 60
    assert steaming.call("over") == []
    assert steaming.state("glass", "new") == [
        "Danger. Level unknown. Stop the heat. Damper shut.",
        "Warning. Glass not proved. Blow through, no feed.",
    ]
    steaming.at += 10
    assert steaming.state("feed", "on") == [STOP_FEED]
    steaming.state("feed", "off")
    steaming.at += 30
    steaming.tell("glass", "comes back at once")
    steaming.at += 10
    steaming.water(0.5)
    assert not {"glass not proved", "level unknown"} & standing(steaming)


def test_by_try_cocks_a_level_is_known_and_feed_is_not_forbidden(steaming: Story) -> None:
    steaming.call("glass broken")
    steaming.at += 60
    steaming.water(0.5)
    steaming.at += 60
    assert steaming.state("feed", "on") == []


def test_a_cold_boiler_is_filled_without_a_word(cold: Story) -> None:
    assert cold.water("out of sight") == []
    cold.at += 300
    assert cold.water(0.5) == []
    assert cold.state("fire", "lit") == []
