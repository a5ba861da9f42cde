"""The general emergencies: what is said at once, and that it is only common ground."""

from __future__ import annotations

from assistant.config.emergencies_file import shipped_emergencies
from assistant.grammar.conflicts import clash
from assistant.grammar.phrases import grammar
from assistant.messages import Expected, Report
from assistant.procedure.emergency import EMERGENCY, OVER
from assistant.procedure.validation import emergency_objections

OURS = shipped_emergencies()

# Sources disagree on these (drawing or banking, hosing, stopping the engine, opening the valve), so
# a general text may not tell anybody to do them.
IN_DISPUTE = ("draw the fire", "drop the fire", "pull the fire", "bank the fire", "hose", "ash",
              "open the valve", "lift the valve", "start the feed", "start the pump")  # fmt: skip


def test_it_is_proved_and_marked_as_general() -> None:
    assert emergency_objections(OURS) == ()
    assert OURS.general


def test_every_one_ends_with_the_engines_instructions_and_a_competent_person() -> None:
    for emergency in OURS.entries:
        said = OURS.words(emergency)
        assert 2 <= len(said) <= 4
        assert "instructions" in said[-1] and "competent person" in said[-1]


def test_low_water_keeps_to_the_common_ground() -> None:
    low = OURS.for_alarm("water out of sight")
    assert low is not None
    acts = " ".join(low.acts).lower()
    for part in (
        "damper shut, blower shut", "no firing", "no feed while the level is unknown",
        "touch no steam valve", "away from the firehole", "no steam until it is examined",
    ):  # fmt: skip
        assert part in acts


def test_with_water_in_sight_feed_is_left_to_the_engines_own_instructions() -> None:
    low = OURS.for_alarm("low water")
    assert low is not None and low != OURS.for_alarm("water out of sight")
    acts = " ".join(low.acts)
    assert acts.startswith("Damper shut, blower shut. No firing.")
    assert "Water in sight: feed only if your engine's instructions say so." in acts
    assert "unknown" not in acts, "it is known"


def test_nothing_in_dispute_is_told_to_anybody() -> None:
    for emergency in OURS.entries:
        acts = " ".join(emergency.acts).lower()
        assert [text for text in IN_DISPUTE if text in acts] == []


def test_every_call_is_live_at_any_time_and_means_its_emergency() -> None:
    anytime = grammar(Expected("answer"))
    for emergency in OURS.entries:
        if emergency.spoken:
            meant = {anytime.meaning(form.split()) for form, _ in emergency.calls()}
            assert Report(EMERGENCY, emergency.name) in meant
            assert meant <= {Report(EMERGENCY, emergency.name), None}


def test_that_it_is_over_can_be_called_only_while_it_stands() -> None:
    over = Report(EMERGENCY, OVER)
    assert over not in dict(OURS.calls()).values()
    assert over in dict(OURS.calls(standing=True)).values()
    assert [clash(form, report) for form, report in OURS.calls(standing=True)] == [None] * len(
        OURS.calls(standing=True)
    )
