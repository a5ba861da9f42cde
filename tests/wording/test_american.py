"""American words: every safety sentence carries them, and nothing else of it changes."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
import yaml
from day_story import Day

from assistant.messages import Say
from assistant.shipped_folder import SHIPPED
from assistant.wording.american import american

BRITISH = re.compile(
    r"\b(regulator|petrol|firehole|clack|damper|drain cocks|chocked|chocks|chimney|blow-down"
    r"|safety valve|reverser)\b",
    re.IGNORECASE,
)


@pytest.mark.parametrize(
    ("british", "words"),
    [  # as a reading of our sentences by American books has them
        ("Away from the firehole.", "Away from the fire door."),
        ("Brake on, wheels chocked.", "Brake set, wheels blocked."),
        ("No water on burning oil or petrol.", "No water on burning oil or gasoline."),
        ("No water on burning oil, petrol or gasoline.", "No water on burning oil or gasoline."),
        ("Dry and turning? Shut the drain cocks.", "Dry and turning? Shut the cylinder cocks."),
        ("Reverser full forward.", "Reverse lever full forward."),
        ("Certificate in date?", "Certificate current?"),
        ("Shut the clack stop valve.", "Shut the check stop valve."),
        ("Valve lifts at ninety pounds.", "Valve pops at ninety pounds."),
    ],
)
def test_the_words_of_the_trade(british: str, words: str) -> None:
    assert american(british) == words


@pytest.mark.parametrize(
    "text",
    ["Lift the extension off.", "Water half.", "You can say: damper shut; regulator shut; help."],
)
def test_what_stays(text: str) -> None:
    assert american(text) == text


def spoken_of_the_lists() -> list[str]:
    """What the shipped lists and emergencies have said: steps, cautions, endings, acts."""
    said: list[str] = []
    for file in sorted((SHIPPED / "checklists").glob("*.yaml")):
        found = yaml.safe_load(file.read_text(encoding="utf-8"))
        for entry in found.get("steps", found.get("emergencies", [])):
            says = entry["acts"] if "acts" in entry else [entry["say"]]
            then = [a["then"] for a in entry.get("answers", ()) if "then" in a]
            said += [*says, *then, entry.get("caution", "")]
    return said


def test_no_sentence_of_a_list_keeps_a_british_word() -> None:
    said = spoken_of_the_lists()
    assert len(said) > 300
    left = {american(text) for text in said if BRITISH.search(american(text))}
    assert not left


def test_a_session_speaks_so_and_understands_either() -> None:
    day = Day(from_phase="raising steam")
    config = day.session._config
    day.session._config = replace(config, engine=replace(config.engine, words="american"))
    day.tell("0:05 water out of sight\n0:20 damper shut\n0:30 throttle shut")
    said = [effect.text for _, effect in day.came if isinstance(effect, Say)]
    assert any("Draft door shut, blower shut. No firing." in text for text in said)
    assert "Throttle shut." in said
    assert not [text for text in said if BRITISH.search(text)]
