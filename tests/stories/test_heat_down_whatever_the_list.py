"""Near the wanted pressure the heat comes down, also while another list waits for an answer."""

from __future__ import annotations

import day_story
import pytest
from session_story import Story

BLOWER = "Near the wanted pressure. Blower down to a crack."
DAMPER = "Wanted pressure. Damper nearly shut."


def spoken(story: Story, words: str, then_s: float = 60.0) -> list[str]:
    """What is said to these words and in the time after them."""
    story.say(words, after_s=30.0)
    at_once = story.said()
    story.wait(then_s)
    return at_once + story.said()


def taken_over(blower: str = "") -> Story:
    """Taken over while steam is raised, the questions of taking over not answered."""
    story = Story(from_phase="raising steam")
    story.say("water half")
    if blower:
        story.say(blower)
    return story


def test_the_blower_is_spoken_of_while_taking_over() -> None:
    said = spoken(taken_over(), "pressure one hundred and ten")
    assert BLOWER in said
    assert DAMPER not in said


def test_a_blower_that_was_shut_is_not_spoken_of() -> None:
    assert BLOWER not in spoken(taken_over("blower is shut"), "pressure one hundred and ten")


def test_the_damper_follows_at_the_wanted_pressure_until_it_is_told() -> None:
    story = taken_over("blower is shut")
    assert DAMPER in spoken(story, "pressure one hundred and twenty", 90.0)
    assert DAMPER not in spoken(story, "damper nearly shut", 270.0)


def test_an_act_that_was_just_reported_is_not_asked_for() -> None:
    told, untold = Story(from_phase="raising steam"), Story(from_phase="raising steam")
    for words in ("water half", "comes back at once", "pressure sixty", "damper open"):
        told.say(words)
        untold.say(words.replace("damper open", "fire is built"))
    told.say("fire is built")
    assert "Open the damper" not in " ".join(spoken(told, "fire is dying"))
    assert "Open the damper" in " ".join(spoken(untold, "fire is dying"))


def test_blower_and_damper_due_together_are_one_utterance() -> None:
    story = taken_over()
    story.say("pressure one hundred and twenty", after_s=10.0)
    said = " ".join(story.said())
    assert BLOWER in said and DAMPER in said


def test_beside_a_blower_wanted_down_no_caution_asks_for_more_of_it() -> None:
    story = Story("copper", "raising steam")
    said = []
    for words in (
        "water half", "comes back at once", "pressure eighty", "valve agreed today",
        "fire is bright", "pump worked today", "regulator shut", "brake on and chocked",
        "gear is out",
    ):  # fmt: skip
        said += spoken(story, words, 5.0)
    said += spoken(story, "water half", 120.0)
    assert "Firehole door shut, blower a crack. Gloves. Lift the extension off." in said
    assert not any("blower on" in text.lower() for text in said)


@pytest.mark.parametrize(("fire", "said"), [("the fire is dropped", False), ("coal on", True)])
def test_with_the_fire_dropped_no_draught_is_eased(fire: str, said: bool) -> None:
    day = day_story.taken_over("raising steam", pressure="pressure ninety")
    day.tell(f"1:00 water half\n1:10 {fire}\n1:40 pressure one hundred\n1:50 water half")
    day.tell("2:20 pressure one ten\n2:30 water half\n4:00")
    assert ("Blower down" in day.heard) is said


def test_a_boiler_not_to_be_steamed_is_kept_without_draught() -> None:
    day = day_story.taken_over("raising steam", pressure="pressure seventy")
    day.tell("1:00 water out of sight\n2:00 water half\n2:20 comes back at once")
    day.tell("2:40 water half\n3:40 water half")
    assert "heat in an unfit boiler" in day.dangers
    mark = len(day.came)
    day.tell("5:00 pressure one ten\n5:10 water half\n6:30")
    assert "Danger. Not to be steamed. Stop the heat." in day.heard_since(mark)
    assert "Blower down" not in day.heard
    day.tell("7:00 damper shut\n7:05 blower shut\n7:10 pressure one ten\n7:20 water half")
    mark = len(day.came)
    day.silence(3.0)
    assert "Damper shut" not in day.heard_since(mark)
