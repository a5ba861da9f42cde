"""The checklist in words: short sentences without figures, and lists that are not read for ever."""

from __future__ import annotations

import pytest

from assistant.wording import forecast_words, move_words, readback, walkthrough
from assistant.wording.quantities import PROMPT_WORDS, word_count

PHASES = ("preparation", "firing", "raising steam", "tick-over", "pumping", "putting away")
# What is said in a fixed sentence or a fixed shape.
PROMPTS = [
    *walkthrough.CAUTIONS, *walkthrough.DEVICE_BACK.values(),
    *readback.SAY_AGAIN, *readback.AGAIN_ANSWER, walkthrough.fault_words(),
    walkthrough.end_asked(), walkthrough.note_follows(), walkthrough.nothing_more(),
    walkthrough.no_step_back(), walkthrough.not_yet(5), walkthrough.taking_over("raising steam"),
    walkthrough.waiting(5), walkthrough.skipped("tubes swept"),
    walkthrough.left_out("tubes swept"), move_words.danger_first(),
    *(move_words.refused(here, there) for here in PHASES for there in PHASES),
    walkthrough.not_skipped("gauge glass proved", hold=True),
    walkthrough.phase_done("raising steam"), walkthrough.ended("fire in, sixty pounds"),
    forecast_words.meanwhile(11, "Oil round now?"), readback.not_a_yes("water"),
    forecast_words.cannot_say("no reading for ten minutes"),
    *map(readback.ask_for, ("water", "pressure", "tank", "gear")),
]  # fmt: skip


@pytest.mark.parametrize("text", PROMPTS)
def test_prompts_are_short_and_whole(text: str) -> None:
    assert word_count(text) <= PROMPT_WORDS, word_count(text)
    assert not any(figure.isdigit() for figure in text)
    assert text[0].isupper() and text[-1] in ".?"
    assert len(text.rstrip(".?").replace("?", ".").split(". ")) <= 4


def test_walking_through() -> None:
    assert walkthrough.phase_done("firing", ["tubes swept", "papers"]) == (
        "Firing complete. Two open items: tubes swept, papers."
    )
    assert walkthrough.items_open([]) == "Nothing is open."
    many = walkthrough.items_open([f"thing {letter}" for letter in "abcdefgh"])
    assert many.startswith("Eight open items") and many.endswith("and three more.")
    assert walkthrough.step("Open the drains.", "Stand clear") == "Stand clear. Open the drains."
    assert walkthrough.where("firing", "Light the fire.", 2) == (
        "Firing. Two to go. Light the fire."
    )
    assert walkthrough.resumed(0.2, "firing", "", "Damper open?") == (
        "Firing. Where is the water? Then: damper open?"
    )
    assert walkthrough.why("") == "No reason is written down for this."


def test_what_is_missing_is_named_and_nothing_missing_is_no_reason() -> None:
    assert walkthrough.phase_waits([]) == "Not from here."
    assert walkthrough.phase_waits(["water well up", "fire lit"]) == (
        "Not yet. First: water well up, fire lit."
    )
    assert walkthrough.lit_too_soon([]) == ""


def test_the_digest_is_said_digit_by_digit() -> None:
    assert walkthrough.sealed("09 15") == ("The book is closed. Its digest: zero nine, one five.")
    with pytest.raises(ValueError):
        walkthrough.sealed("ab12")
