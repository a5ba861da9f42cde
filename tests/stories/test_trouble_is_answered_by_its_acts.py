"""A trouble is called: its first act comes in the same breath, and no answer is lost after it."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import Grade, ReadingAccepted, ReadingCorrected, Report

FIRST_ACT = {
    "injector trouble": "water full on",
    "pump trouble": "Bypass shut",
    "blower is weak": "blow",
    "fire is dying": "damper",
    "glass is dirty": "cocks open",
    "pressure hangs": "Level it",
    "priming now": "rain cocks open",
}
OTHER_WAYS = {
    "injector trouble": "injector will not pick up",
    "pump trouble": "pump not working",
    "priming now": "water in the chimney",
    "fire is dying": "fire will not draw",
}


@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
@pytest.mark.parametrize("call", sorted(FIRST_ACT))
def test_the_first_act_is_said_while_the_water_is_overdue(call: str, engine: str) -> None:
    """The floor belongs to the glass, and yet he hears at once what to do."""
    day = taken_over("tick-over", engine, "pressure eighty")
    day.tell("7:00")
    assert "water reading overdue" in day.standing
    assert FIRST_ACT[call].lower() in day.reply(call).lower()


@pytest.mark.parametrize("call", sorted(OTHER_WAYS))
def test_called_in_other_words_at_stand_with_another_question_open(call: str) -> None:
    day = taken_over("standing by", "fullsize", "pressure eighty")
    assert FIRST_ACT[call].lower() in day.reply(OTHER_WAYS[call]).lower()


def test_priming_is_a_warning_with_its_act_before_anything_else() -> None:
    day = taken_over("pumping", "copper", "pressure eighty")
    said = day.reply("boiler is priming")
    assert Grade.WARNING in day.standing.values()
    first = said.split(". ")[:3]
    assert any("Regulator shut" in part or "rain cocks open" in part for part in first), said
    assert "Where is the water?" not in said


def test_still_the_same_answers_only_a_check_that_he_has_heard() -> None:
    """Said again and again while the glass has the floor: no check is done before it is spoken."""
    day = taken_over("raising steam", "copper", "pressure forty")
    day.tell("5:20")
    day.reply("fire is dying")
    for _ in range(12):
        work = day.session.state.procedure
        if not work.parked:
            break
        for done in work.progress.done:
            words = work.progress.step(done.step).say
            assert words in day.heard, f"{done.step} was struck off unspoken"
        day.reply("still the same", after_s=8.0)


CURES = (
    "pump trouble", "injector trouble", "fire is dying", "pressure hangs", "blower is weak",
    "glass is dirty", "priming now",
)  # fmt: skip


@pytest.mark.parametrize("call", CURES)
def test_no_to_a_check_is_an_answer_and_the_next_check_follows(call: str) -> None:
    day = taken_over("standing by", "fullsize", "pressure eighty")
    day.reply(call)
    day.silence(0.5)
    first = day.session.state.progress.asked
    day.reply("no")
    assert not day.got(ReadingCorrected) and "Taken back" not in day.heard
    day.silence(0.5)
    assert day.session.state.procedure.parked
    assert day.session.state.progress.asked != first


@pytest.mark.parametrize("call", CURES)
def test_yes_is_never_met_with_silence(call: str) -> None:
    day = taken_over("tick-over", "practice", "pressure eighty")
    day.reply(call)
    day.silence(0.5)
    assert day.reply("yes"), call
    assert "Taken back" not in day.heard


def test_not_yet_keeps_the_check_and_takes_nothing_back() -> None:
    day = taken_over("standing by", "copper", "pressure eighty")
    day.reply("pump trouble")
    day.silence(0.3)
    before = day.session.state.progress.asked
    day.reply("not yet")
    assert day.session.state.progress.asked == before
    assert "Taken back" not in day.heard


WHILE = {
    "quiet was asked for": ("be quiet",),
    "a note is begun": ("take a note",),
    "a fall is doubted": ("pressure ten",),
    "the end was asked for": ("end the session",),
    "the water is overdue": (),
}


@pytest.mark.parametrize("open_thing", sorted(WHILE))
@pytest.mark.parametrize(
    "words",
    ["tubes are leaking", "the chimney is on fire", "someone is scalded", "the plug has blown"],
)
def test_trouble_is_heard_through_whatever_is_open(words: str, open_thing: str) -> None:
    day = taken_over("standing by", "copper", "pressure eighty")
    for line in WHILE[open_thing]:
        day.reply(line)
    if open_thing == "the water is overdue":
        day.silence(6.0)
    said = day.reply(words, after_s=4.0)
    assert said.startswith("Danger. "), said
    assert "Get a competent person." in said


def test_two_troubles_at_once_are_both_told_and_neither_ends_the_other() -> None:
    day = taken_over("tick-over", "fullsize", "pressure one hundred")
    day.tell("2:00 cannot shut the regulator\n2:10 somebody is burned")
    assert {"regulator is stuck open", "somebody is burned"} <= day.dangers
    said = day.silence(3.0)
    assert "Regulator stuck open" in said and "Somebody burned" in said


@pytest.mark.parametrize(
    ("words", "state"),
    [
        ("glass comes back slowly", "comes back slowly"),
        ("the glass stays empty", "stays empty"),
        ("glass fills and stays", "fills and stays"),
    ],
)
def test_what_the_glass_did_counts_in_the_middle_of_a_cure(words: str, state: str) -> None:
    """He blew it through although nobody asked, and it does not come back as it should."""
    day = taken_over("raising steam", "copper", "pressure fifty")
    day.reply("pump trouble")
    said = day.reply(words)
    assert day.got(ReadingAccepted) == [ReadingAccepted(Report("glass", state))]
    assert said
    day.silence(0.5)
    assert day.session.state.latest("glass") is not None


def test_a_trouble_called_by_mistake_is_called_over_in_words() -> None:
    day = Day("copper", "raising steam")
    day.tell("0:10 water half\n0:20 chimney fire\n0:40 danger is over")
    assert not day.dangers
