"""The sheet for the cab: her figures and marks, two sides, nothing that is not understood."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from session_story import parts

from assistant.cli import main
from assistant.config.emergencies_file import load_emergencies
from assistant.config.engine_file import engine_from_text, find_engine
from assistant.config.paths import checklists_folder, engines_folder
from assistant.grammar.phrases import EXPECTED_KINDS, grammar
from assistant.messages import Expected
from assistant.report.card import Card, card_of
from assistant.report.card_html import card_html
from assistant.report.card_pdf import card_pdf
from assistant.wording.things_to_say import GROUPS, on_the_card, sayings

GENERAL = load_emergencies(checklists_folder() / "emergencies.yaml")
OWN = """\
general: no
call: {name: Jo, number: 01632 960 123}
ending: Ring the works.
emergencies:
  - name: low water
    alarms: [low water]
    acts: [Drop the fire., Feed by the injector., Everybody away.]
    why: Her maker's book.
    source: invented
"""


def card(stem: str = "practice") -> Card:
    return card_of(find_engine(stem), GENERAL)


@pytest.mark.parametrize("stem", ["practice", "copper", "fullsize"])
def test_always_two_sides_of_a5(stem: str) -> None:
    content = card_pdf(card(stem))
    assert content.startswith(b"%PDF")
    assert len(re.findall(rb"/Type /Page\b", content)) == 2
    # A5 is 148 mm by 210 mm (ISO 216), in points of 1/72 inch
    box = re.search(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", content)
    assert box is not None
    assert float(box[1]) == pytest.approx(148 / 25.4 * 72, abs=0.5)
    assert float(box[2]) == pytest.approx(210 / 25.4 * 72, abs=0.5)


def test_her_figures_are_in_the_unit_of_her_dial() -> None:
    assert ("Valve lifts", "145 psi") in card().figures
    text = (engines_folder() / "practice.yaml").read_text()
    in_bar = engine_from_text(text + "\n", Path("x"))
    bar = engine_from_text(text.replace("gauge: {top", "gauge: {unit: bar, top"), Path("x"))
    assert in_bar.pressure_unit == "psi"
    figures = dict(card_of(bar, GENERAL).figures)
    assert figures["Valve lifts"] == "10 bar" and figures["Wanted, the highest"] == "8.27 bar"
    assert card_of(bar, GENERAL).says[0][0] == "pressure five bar"


def test_her_marks_are_drawn_at_their_heights() -> None:
    page = card_html(card())
    heights = [float(y) for y in re.findall(r'<line x1="[\d.]+" x2="[\d.]+" y1="([\d.]+)"', page)]
    top, height = 14, 212
    assert heights == pytest.approx([top + height * (1 - part) for part in (0.85, 0.5, 0.25)])
    assert "lower mark 25%" in page


def test_every_emergency_stands_on_it_the_water_first() -> None:
    names = [acts.name.lower() for acts in card().acts]
    assert sorted(names) == sorted(entry.name for entry in GENERAL.entries)
    assert names[0] == "water out of sight"
    assert card().general


def test_an_owners_own_acts_take_their_place(tmp_path: Path) -> None:
    own = tmp_path / "own.yaml"
    own.write_text(OWN)
    made = card_of(find_engine("practice"), load_emergencies(own))
    assert [acts.acts[0] for acts in made.acts] == ["Drop the fire."]
    assert "Jo" in made.ending and "Ring the works." in made.ending
    assert not made.general
    out = tmp_path / "card.html"
    assert main(["card", "--engine", "practice", "--checklist", str(own), "--out", str(out)]) == 0
    page = out.read_text()
    assert "Feed by the injector." in page and "No feed while the level is unknown." not in page


def test_twenty_things_and_every_one_is_understood() -> None:
    assert len(on_the_card()) == 20
    calls = (*parts().remedy_calls, *GENERAL.calls(standing=True))
    for dial in ("psi", "bar", "kPa", "kgf/cm2"):
        made = [grammar(Expected(kind, pressure_unit=dial)) for kind in EXPECTED_KINDS]
        known = {form for form, _ in calls}
        for saying in sayings(dial):
            understood = any(each.parse(saying.form) is not None for each in made)
            assert understood or saying.form in known, saying.form
            assert saying.group in GROUPS


def test_a_page_without_anything_from_outside() -> None:
    page = card_html(card())
    assert "<script" not in page and "http" not in page.replace("http-equiv", "")


@pytest.mark.parametrize("name", ["card.pdf", "card.html"])
def test_the_command(name: str, tmp_path: Path) -> None:
    assert main(["card", "--engine", "copper", "--out", str(tmp_path / name)]) == 0
    assert (tmp_path / name).stat().st_size > 5000


def test_another_name_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["card", "--engine", "copper", "--out", str(tmp_path / "card.txt")]) == 2
    assert ".pdf, .html" in capsys.readouterr().err


def test_a_name_with_marks_of_the_page_is_only_a_name() -> None:
    text = (engines_folder() / "practice.yaml").read_text()
    engine = engine_from_text(
        text.replace("name: Practice engine", "name: <b>Bess & Co</b>"), Path("x")
    )
    page = card_html(card_of(engine, GENERAL))
    assert "<b>Bess" not in page and "&lt;b&gt;Bess &amp; Co" in page
