"""There is steam in her while the list is still at the cold gauge: one question moves the list."""

from __future__ import annotations

import pytest
from session_story import Story

from assistant.messages import PhaseBegan, ReadingAccepted
from assistant.procedure.position import open_steps

QUESTION = "There is steam in her. Go on from raising steam?"


def phase(story: Story) -> str:
    return story.session.state.phase.value


@pytest.mark.parametrize("pressure", ["pressure twenty", "pressure one hundred and eighteen"])
def test_a_pressure_called_in_preparation_is_taken_and_one_question_is_put(pressure: str) -> None:
    story = Story()
    story.through("water half", "fire lit")
    story.say(pressure)
    assert len(story.got(ReadingAccepted)) == 1
    said = " ".join(story.said())
    assert QUESTION in said
    assert "cold" not in said.lower(), "no cold wording with steam"


def test_yes_goes_on_with_the_questions_of_a_warm_engine() -> None:
    story = Story()
    story.through("water half", "fire lit", "pressure twenty")
    story.say("yes")
    assert [began.phase for began in story.got(PhaseBegan)] == ["raising steam"]
    assert phase(story) == "raising steam"
    assert story.session.state.procedure.parked, (
        "taken over as a warm engine: water, glass, gauge first"
    )
    story.say("what next")
    assert "water" in " ".join(story.said()).lower()


def test_no_asks_for_the_gauge_again_and_leaves_the_list_where_it_was() -> None:
    story = Story()
    story.through("water half", "fire lit", "pressure twenty")
    story.say("no")
    assert phase(story) == "preparation"
    assert story.said() == ["What is the pressure?"]
    story.say("pressure twenty")
    assert QUESTION in " ".join(story.said())


def test_a_needle_near_its_pin_is_no_steam() -> None:
    story = Story()
    story.say("pressure five")
    assert QUESTION not in " ".join(story.said())


def test_in_its_own_phase_it_is_an_ordinary_reading() -> None:
    story = Story(from_phase="raising steam")
    story.through("water half", "comes back at once")
    story.say("pressure twenty")
    assert QUESTION not in " ".join(story.said())


KILLERS_COLD = {"water in the glass", "gauge at zero", "glass proved cold"}


def open_steps_of(story: Story) -> set[str]:
    return {step.id for step in open_steps(story.session.state.progress)}


def test_no_on_a_cold_boiler_puts_back_what_the_call_had_overtaken() -> None:
    story = Story()
    story.say("pressure fifty")
    story.say("no")
    assert story.said() == ["What is the pressure?"]
    story.say("pressure zero")
    assert "is that right" not in story.text()
    story.through("water half", "brake on and chocked")
    assert story.session.state.progress.answered >= {"gauge at zero", "water in the glass"}
    assert "glass proved cold" in open_steps_of(story)


def test_a_gauge_at_rest_after_all_puts_back_what_one_call_had_overtaken() -> None:
    story = Story()
    story.through("pressure fifty", "water half")
    assert set(story.session.state.progress.overtaken) >= KILLERS_COLD
    story.through("pressure zero", "that's right")
    assert not story.session.state.progress.overtaken
    assert "gauge at zero" in story.session.state.progress.answered
    assert "glass proved cold" in open_steps_of(story)


def test_no_beside_a_second_witness_takes_nothing_back() -> None:
    story = Story()
    story.through("water half", "fire lit", "pressure twenty")
    story.say("no")
    assert story.session.state.reports.of("pressure"), "a word beats no reading over a fire"


def test_a_gauge_called_twice_with_steam_stands() -> None:
    story = Story()
    story.through("pressure fifty", "pressure fifty five", "pressure zero", "that's right")
    assert set(story.session.state.progress.overtaken) >= KILLERS_COLD
