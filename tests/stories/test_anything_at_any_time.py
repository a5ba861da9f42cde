"""Whatever says its subject is understood in every phase and beside every question, typed."""

from __future__ import annotations

import pytest
from session_story import Story, in_steam, parts, steaming, warm_engine

from assistant.messages import Expected, Order, Report
from assistant.recogniser.typed_recogniser import hear_typed

FORMS = parts().named_forms


def situations() -> dict[str, Expected]:
    """What is listened for in eight situations of a day."""
    cold = Story()
    asked = Story()
    asked.say("that's right")
    doubted = in_steam()
    doubted.say("pressure ten")
    trouble = steaming()
    trouble.say("pump trouble")
    danger = steaming()
    danger.say("no water in sight")
    waiting = in_steam()
    waiting.wait(200.0)
    return {
        "her plate asked": cold.session.expected,
        "water asked cold": asked.session.expected,
        "raising steam": steaming().session.expected,
        "reading doubted": doubted.session.expected,
        "a reading asked": waiting.session.expected,
        "a remedy in hand": trouble.session.expected,
        "a danger": danger.session.expected,
        "standing by": warm_engine("standing by").session.expected,
    }


NOW = situations()


def test_there_are_many_and_none_is_bare() -> None:
    assert len(FORMS) > 200
    assert all(len(form.split()) > 1 for form, _ in FORMS)


@pytest.mark.parametrize("situation", list(NOW))
def test_every_named_form_of_every_list_is_understood(situation: str) -> None:
    missed = {}
    for form, report in FORMS:
        heard = hear_typed(form, NOW[situation], 1.0)
        meant = heard.alternatives[0].meaning if heard.alternatives else None
        if meant != report:
            missed[form] = (report, meant)
    # "valve will not lift" is a danger unless a step asks about a cold valve
    missed.pop("valve will not lift", None)
    assert missed == {}


def test_fire_run_down_is_said_back_while_the_water_is_asked() -> None:
    story = in_steam()
    story.through("putting away now", "fire run down")
    assert story.session.state.latest_is("fire", "run down")
    assert not story.session.state.fire_in
    assert "Fire run down." in story.said()


def test_what_does_not_say_its_subject_is_not_guessed() -> None:
    story = steaming()
    story.say("still the same")
    assert any(text.startswith("I did not follow") for text in story.said())


def heard(story: Story, report: Report) -> None:
    """An ear is all but sure of it."""
    story.sound((report, 0.9995), (Order("repeat"), 0.0001))


def test_by_ear_it_is_taken_where_its_list_fits_this_fire_and_steam() -> None:
    story, picks_up = steaming(), Report("injector", "works")
    heard(story, picks_up)
    assert picks_up in [timed.report for timed in story.session.state.reports]


def test_by_ear_it_is_asked_about_first_where_its_phase_is_over() -> None:
    story, swept = steaming(), Report("tubes", "swept")
    heard(story, swept)
    assert swept not in [timed.report for timed in story.session.state.reports]
    assert story.session.state.doubt is not None
    story.say("yes")
    assert swept in [timed.report for timed in story.session.state.reports]
