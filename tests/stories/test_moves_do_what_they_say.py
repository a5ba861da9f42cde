"""A move that is asked for aloud is made, or it is said why not."""

from __future__ import annotations

from day_story import Day
from session_story import Story, in_steam

from assistant.messages import Ended, PhaseBegan, StopAsked
from assistant.procedure.checklist import Phase


def began(story: Story) -> list[str]:
    return [effect.phase for effect in story.got(PhaseBegan)]


def test_putting_away_is_done_though_a_remedy_is_in_hand() -> None:
    story = in_steam()
    story.say("pump trouble")
    story.wait(5.0)
    story.say("putting away now")
    assert began(story) == ["putting away"]
    assert story.session.state.procedure.parked == ()


def test_moving_off_while_the_warm_questions_are_open_says_what_is_first() -> None:
    story = Story(from_phase="standing by")
    story.say("water half")
    story.say("moving off again")
    assert began(story) == []
    assert any(text.startswith("Not yet. First: ") for text in story.said())


def test_when_the_fire_has_run_down_the_end_does_not_say_that_it_is_in() -> None:
    for words, still_in in (("fire run down", False), ("fire banked", True)):
        story = in_steam()
        story.say("putting away now")
        story.through("water half", words)
        story.event(StopAsked(story.at))
        assert story.got(Ended)
        assert story.session.state.fire_in is still_in


def test_raising_steam_follows_an_engine_that_has_steam_past_the_cold_list() -> None:
    day = Day()
    day.tell("0:20 plate is right\n1:00 water half\n2:00 pressure twenty")
    assert "Go on from raising steam?" in day.heard
    said = day.tell("3:00 raising steam")
    assert "finish this list first" not in said
    assert day.session.state.phase is Phase.RAISING_STEAM


def test_raising_steam_on_a_cold_boiler_is_still_too_soon() -> None:
    day = Day()
    said = day.tell("0:20 plate is right\n1:00 water half\n2:00 raising steam")
    assert "finish this list first" in said
    assert day.session.state.phase is Phase.PREPARATION
