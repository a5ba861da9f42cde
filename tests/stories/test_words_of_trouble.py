"""What a driver says in trouble and to move on is understood in any phase, asked or unasked."""

from __future__ import annotations

import pytest
from asked_steps import LISTS, in_hand
from session_story import Story

from assistant.grammar.phrases import grammar
from assistant.messages import (
    AlarmChanged,
    Grade,
    Meaning,
    Order,
    PhaseBegan,
    ReadingAccepted,
    ReadingRefused,
    Report,
    StepDone,
    StepSkipped,
)
from assistant.procedure.checklist import Phase
from assistant.wording import help_words

PHASES = [None, *(phase.value for phase in Phase)]
NO_WATER = Report("water", "out of sight")
NOT_LIFTED = Report("withdrawn", "valve")  # with no movement told that it takes back: it is shut


def called(name: str) -> Report:
    return Report("emergency", name)


READINGS: dict[str, Meaning] = {
    "pressure seventy five": Report("pressure", 75.0, "psi"),
    "pressure seven five": Report("pressure", 75.0, "psi"),
    "seventy five pounds": Report("pressure", 75.0, "psi"),
    "five bar": Report("pressure", 5.0, "bar"),
    "water half": Report("water", 0.5, "glass"),
    "half a glass": Report("water", 0.5, "glass"),
    "water two thirds": Report("water", 2 / 3, "glass"),
    "water three quarters": Report("water", 0.75, "glass"),
    "no water in sight": NO_WATER,
}
DANGERS: dict[str, Report] = {
    "fusible plug has gone": called("plug has gone"),
    "plug has gone": called("plug has gone"),
    "the plug has blown": called("plug has gone"),
    "fusible plug has blown": called("plug has gone"),
    "tube has burst": called("tube has burst"),
    "tubes are leaking": called("tube has burst"),
    "water in the firebox": called("water in the firebox"),
    "leak in the firebox": called("water in the firebox"),
    "safety valve is stuck": called("safety valve is stuck"),
    "safety valve won't lift": called("safety valve is stuck"),
    "regulator is stuck open": called("regulator is stuck open"),
    "cannot shut the regulator": called("regulator is stuck open"),
    "can't shut the regulator": called("regulator is stuck open"),
    "engine is running away": called("engine is running away"),
    "somebody is burned": called("somebody is burned"),
    "someone is burned": called("somebody is burned"),
    "chimney fire": called("chimney fire"),
    "chimney is on fire": called("chimney fire"),
}
LOST_WATER = (
    "cannot see the water", "can't see the water", "lost the water", "i have lost the water",
    "water in the bottom nut", "the water is in the bottom nut",
)  # fmt: skip
SEEN: dict[str, Report] = {
    "the glass stays empty": Report("glass", "stays empty"),
    "glass stays empty": Report("glass", "stays empty"),
    "glass comes back slowly": Report("glass", "comes back slowly"),
    "glass fills and stays": Report("glass", "fills and stays"),
    "glass comes back at once": Report("glass", "comes back at once"),
    "the valve did not lift": Report("withdrawn", "valve"),
    "valve did not feather": Report("withdrawn", "valve"),
    "fire was not lit": Report("withdrawn", "fire"),
    "the fire is not lit": Report("withdrawn", "fire"),
    "feed was not on": Report("withdrawn", "feed"),
    "boiler has been looked at": Report("boiler", "looked at"),
}
ORDERS: dict[str, str] = {
    "say again": "repeat", "what next": "next", "why": "why", "how long": "how long",
    "where are we": "where", "not yet": "not yet", "ready": "ready", "help": "help",
    "what can i say": "help", "emergency": "troubles", "not on this engine": "not here",
    "not today": "not here", "it is so already": "not here", "already done": "not here",
}  # fmt: skip
MOVES: dict[str, tuple[str, Phase]] = {
    "standing by": ("stand_by", Phase.STANDING_BY),
    "stand by now": ("stand_by", Phase.STANDING_BY),
    "moving off": ("move_off", Phase.TICK_OVER),
    "we are moving off": ("move_off", Phase.TICK_OVER),
    "putting away": ("put_away", Phase.PUTTING_AWAY),
    "put her away": ("put_away", Phase.PUTTING_AWAY),
    "raising steam again": ("raise_steam", Phase.RAISING_STEAM),
    "time to feed again": ("feed", Phase.PUMPING),
}


def stories(phase: str | None, *before: str) -> list[tuple[str, Story]]:
    """The phase as it begins with its question, with a doubt to be answered, and put away."""
    asked, doubting, unasked = (Story("practice", phase) for _ in range(3))
    for story in (asked, doubting, unasked):
        story.through(*before)
    doubting.say("end the session")
    unasked.say("putting away now")
    unasked.say("what next")
    return [("asked", asked), ("a doubt", doubting), ("put away", unasked)]


def understood(story: Story, words: str) -> None:
    story.say(words)
    assert not any(e.report is None for e in story.got(ReadingRefused)), words
    assert "I did not follow" not in story.text(), words


@pytest.mark.parametrize("phase", PHASES)
def test_a_danger_is_raised_and_its_acts_are_said(phase: str | None) -> None:
    for words, report in DANGERS.items():
        for how, story in stories(phase):
            understood(story, words)
            assert ReadingAccepted(report) in story.effects, (words, how)
            raised = [e.name for e in story.got(AlarmChanged) if e.state == "raised"]
            assert raised == [report.value], (words, how)
            said = story.said()
            assert said[0].startswith("Danger. ") and len(said[0].split()) <= 8
            assert "Get a competent person." in said[1]


@pytest.mark.parametrize("phase", PHASES)
def test_water_that_cannot_be_seen_is_no_water_in_sight(phase: str | None) -> None:
    for words in LOST_WATER:
        for how, story in stories(phase, "fire is lit"):
            understood(story, words)
            assert ReadingAccepted(NO_WATER) in story.effects, (words, how)
            raised = [e for e in story.got(AlarmChanged) if e.state == "raised"]
            assert [e.grade for e in raised] == [Grade.DANGER], (words, how)


@pytest.mark.parametrize("phase", PHASES)
def test_what_was_seen_and_what_was_not_is_taken_as_said(phase: str | None) -> None:
    for words, report in SEEN.items():
        for how, story in stories(phase):
            understood(story, words)
            taken = (report, Report("valve", "shut")) if report == NOT_LIFTED else (report,)
            assert any(ReadingAccepted(r) in story.effects for r in taken), (words, how)


@pytest.mark.parametrize("phase", PHASES)
def test_a_glass_that_does_not_move_is_the_answer_asked_for_or_glass_trouble(
    phase: str | None,
) -> None:
    meant = (Report("glass", "does not move"), Report("cure", "glass_trouble"))
    for _, story in stories(phase):
        for words in ("glass does not move", "the glass does not move"):
            understood(story, words)
            assert any(ReadingAccepted(report) in story.effects for report in meant), words


@pytest.mark.parametrize("phase", PHASES)
def test_readings_and_orders_mean_the_same_whatever_is_asked(phase: str | None) -> None:
    for _, story in stories(phase):
        now = grammar(story.session.expected)
        for words, meaning in READINGS.items():
            assert now.parse(words) == meaning
        for words, order in ORDERS.items():
            assert now.parse(words) == Order(order)


@pytest.mark.parametrize("phase", PHASES)
def test_orders_are_followed_in_any_phase(phase: str | None) -> None:
    for words in (*ORDERS, "correct", "wrong"):
        for _, story in stories(phase):
            understood(story, words)


@pytest.mark.parametrize("phase", PHASES)
def test_a_move_is_made_or_it_is_said_why_not(phase: str | None) -> None:
    for words, (name, wanted) in MOVES.items():
        story = Story("practice", phase)
        understood(story, words)
        assert ReadingAccepted(Report("move", name)) in story.effects
        if story.got(PhaseBegan):
            assert story.session.state.phase is wanted
        else:
            refusal = ("Not yet. ", "Not from ", "We are already.", "Where is the water?")
            assert any(text.startswith(refusal) for text in story.said()), (words, story.said())


def test_a_move_that_is_not_legal_names_what_comes_first() -> None:
    story = Story("practice", "firing")
    story.say("standing by")
    assert "Not from firing: raise steam first." in story.said()
    story = Story("practice", "standing by")
    story.say("standing by")
    assert "We are already." in story.said()


def test_a_move_does_not_begin_while_a_danger_stands() -> None:
    story = Story("practice", "raising steam")
    story.say("chimney fire")
    story.say("putting away")
    assert not story.got(PhaseBegan)
    assert "The danger first. Then say it again." in story.said()


@pytest.mark.parametrize("phase", PHASES)
def test_taking_over_begins_its_questions_in_any_phase(phase: str | None) -> None:
    for words in ("taking over", "taking over now", "take her over"):
        story = Story("practice", phase)
        story.say("putting away")
        understood(story, words)
        progress = story.session.state.progress
        assert progress.checklist.name == "taking_over" and not progress.done
        assert "First what could hurt us." in story.text()


def test_a_step_that_does_not_apply_ends_for_the_day() -> None:
    story = Story()
    story.through("water half", "brake on and chocked")
    for _ in range(40):
        progress = story.session.state.progress
        step = next((s for s in progress.steps if s.id == progress.asked), None)
        if step is None or not step.must:
            break
        story.say(step.replies[0].spoken[0] if step.replies else "water half")
    assert step is not None and not step.must
    story.say("not on this engine")
    (left,) = story.got(StepSkipped)
    assert left.step == step.id and left.reason == "not on this engine today"
    assert story.said()[0] == f"Left out: {step.id}."
    assert not story.got(StepDone)
    story.say("open items")
    assert step.id not in story.text()
    assert step not in story.session.state.progress.steps or story.session.state.progress.is_done(
        step.id
    )


def test_a_hold_is_not_left_out() -> None:
    story = Story()
    for words in ("not on this engine", "not today", "already done"):
        story.say(words)
        assert story.said()[0].startswith("This one stays: the next phase waits for it.")
        assert not story.got(StepSkipped)


def test_help_begins_with_the_troubles_and_offers_what_is_asked() -> None:
    story = Story("practice", "raising steam")
    story.say("help")
    assert story.said()[0] == (
        "In trouble: no water in sight; steam escaping; someone is hurt. "
        "Now: water half; no water in sight. Also: pressure seventy five; what next."
    )
    story.say("emergency")
    assert story.said()[0] == help_words.trouble_words()


@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
@pytest.mark.parametrize("phase", PHASES)
def test_all_that_is_offered_is_understood_and_in_the_dials_unit(
    engine: str, phase: str | None
) -> None:
    for order in ("help", "emergency", "green parrots sing"):
        story = Story(engine, phase)
        story.say(order)
        now, said = grammar(story.session.expected), story.said()[0]
        offered = [form for part in said.split(": ")[1:] for form in part.split(".")[0].split("; ")]
        for form in offered:
            meaning = now.parse(form)
            assert meaning is not None, form
            if isinstance(meaning, Report) and meaning.what == "pressure":
                assert meaning.unit == story.session.expected.pressure_unit


def test_the_top_cock_is_not_the_blower() -> None:
    firing = next(one for one in LISTS if one.phase is Phase.FIRING)
    story = in_hand(firing, "air let out")
    story.say("top cock open")
    assert [e.answer for e in story.got(StepDone)] == ["blower top cock"]
    assert story.said()[0] == "Top cock open."
