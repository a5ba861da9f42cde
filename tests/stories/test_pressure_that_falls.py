"""The pressure falls with a fire in and nothing explains it: said in every phase."""

from __future__ import annotations

import pytest
from day_story import taken_over
from session_story import Story, in_steam, warm_engine

from assistant.messages import AlarmChanged

FALLING = "Caution. Pressure falling. Blower on, then look."


def falling_in(phase: str, *words: str) -> Story:
    story = warm_engine(phase)
    story.through("damper wide open", *words)
    story.say("pressure ninety", after_s=200.0)
    return story


@pytest.mark.parametrize("phase", ["raising steam", "tick-over", "pumping", "standing by"])
def test_it_is_said_in_every_phase(phase: str) -> None:
    assert FALLING in falling_in(phase).said()


@pytest.mark.parametrize(
    "words", ["fire drawn", "fire banked", "feed running", "regulator open", "damper shut"]
)
def test_what_explains_it_keeps_it_quiet(words: str) -> None:
    assert FALLING not in falling_in("raising steam", words).said()


def test_the_damper_that_was_eased_is_asked_to_be_opened() -> None:
    story = falling_in("raising steam", "damper just cracked")
    story.wait(60.0)
    assert "damper again" not in story.session.state.asked, "the water is due: it goes first"
    story.say("water half")
    story.wait(60.0)
    assert any("Open the damper again." in text for text in (*story.said(),)) or (
        "damper again" in story.session.state.asked
    )
    story.say("damper wide open")
    story.say("pressure ninety five", after_s=120.0)
    assert "Open the damper again." not in story.text()


def test_a_pressure_that_goes_all_at_once_is_said_as_what_it_is() -> None:
    story = in_steam(pressure="pressure one hundred")
    story.say("pressure ten", after_s=60.0)
    assert not [a for a in story.got(AlarmChanged) if a.name == "pressure lost"]
    story.say("that's right")
    assert "Warning. Pressure gone. Stand clear, look round." in story.said()


def test_a_rise_over_a_banked_fire_with_the_damper_shut_is_asked_about() -> None:
    story = in_steam(pressure="pressure sixty")
    story.through("fire banked", "damper shut", "water half")
    for pressure in ("sixty", "sixty five", "seventy five", "eighty five"):
        story.wait(280.0)
        story.say("water half")
        story.say(f"pressure {pressure}")
    assert "Is there fire in her?" in story.text()


def test_a_rise_with_the_damper_open_is_no_question() -> None:
    """Neighbour: a banked fire with air burns on."""
    story = in_steam(pressure="pressure sixty")
    story.through("fire banked", "damper half open", "water half")
    for pressure in ("sixty", "sixty five", "seventy five", "eighty five"):
        story.wait(280.0)
        story.say("water half")
        story.say(f"pressure {pressure}")
    assert "Is there fire in her?" not in story.text()


@pytest.mark.parametrize(
    "words", ["glass does not move", "glass comes back slowly", "glass stays empty"]
)
def test_no_heat_is_asked_for_while_the_glass_is_unproved(words: str) -> None:
    """The damper was ordered shut: the fall is what was asked for."""
    day = taken_over("standing by", "copper", pressure="pressure eighty", fire="fire is bright")
    day.tell(f"4:00 water half\n4:10 pressure eighty\n6:00 {words}")
    said = day.tell("7:00 pressure seventy four\n8:00 pressure sixty eight\n11:00")
    assert "Pressure falling" not in said and "Blower on" not in said


def test_a_glass_proved_again_lets_the_fall_be_said() -> None:
    day = taken_over("standing by", "copper", pressure="pressure eighty", fire="fire is bright")
    day.tell("4:00 water half\n4:10 pressure eighty\n5:00 glass comes back slowly")
    day.tell("5:30 comes back at once\n5:40 water half")
    said = day.tell("7:00 pressure seventy four\n8:00 pressure sixty eight")
    assert FALLING in said
