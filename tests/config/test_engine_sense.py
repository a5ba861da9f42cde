"""Figures that hardly are an engine's are asked about; those of the shipped engines are not."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.config import paths
from assistant.config.engine_file import engine_from_text, find_engine
from assistant.config.engine_sense import engine_cautions


@pytest.mark.parametrize("name", paths.shipped(paths.engines_folder()))
def test_shipped_engines_raise_no_question(name: str) -> None:
    assert engine_cautions(find_engine(name)) == ()


@pytest.mark.parametrize(
    ("was", "now", "asked"),
    [
        ("diameter: 420 mm, length: 900 mm", "diameter: 1330 mm, length: 900 mm",
         "a barrel of 1250 litre in a boiler of 110 litre"),
        ("diameter: 420 mm", "diameter: 42 mm", "a barrel of 1.2 litre in"),
        ("steel: 420 kg", "steel: 42000 kg", "42000 kg of metal around 110 litre"),
        ("steel: 420 kg", "steel: 4.2 kg", "4.2 kg of metal"),
        ("visible: 160 mm", "visible: 960 mm", "a glass of 960 mm on a barrel of 420 mm"),
        ("delivers: 1.6 litre/min", "delivers: 160 litre/min", "fills her in 41 seconds"),
        ("delivers: 1.6 litre/min", "delivers: 0.016 litre/min", "takes 115 hours to fill her"),
        ("rate: 28 kW", "rate: 2800 kW", "has her boiling in"),
        ("rate: 28 kW", "rate: 100 W", "has her boiling in"),
    ],
)  # fmt: skip
def test_a_slip_is_asked_about_where_it_stands(was: str, now: str, asked: str) -> None:
    text = find_engine("practice").text
    assert was in text
    slipped = text.replace(was, now)
    found = engine_cautions(engine_from_text(slipped, Path("own.yaml")))
    (caution,) = [caution for caution in found if asked in caution.message]
    assert caution.message.endswith(": is that right?")
    assert now in slipped.splitlines()[caution.line - 1]
