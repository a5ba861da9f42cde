"""A list that is wrong is refused before anything starts: file, line, column, all at once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from timing import quickest_s

from assistant.cli import main
from assistant.config import paths as places
from assistant.config.checklist_file import load_checklist
from assistant.config.engine_file import find_engine
from assistant.errors import MOST_TOLD

pytestmark = pytest.mark.real  # `run` writes its time of start

OWN = """\
name: mine
title: Mine
extends: raising_steam
steps:
  - id: whistle tried
    say: Blow the whistle.
    asks: whistle
    kind: act
    answers: [{state: blown, say: [whistle is blown]}]
    why: It clears the water out.
    source: common practice, no source
    put_after: blower on
"""
LAPSES = """\
name: mine
title: Mine
extends: preparation
steps:
  - id: whistle dry
    say: Is the whistle dry?
    asks: whistle
    kind: state
    answers: [{state: dry, say: [whistle is dry]}]
    killer: yes
    why: Water in it spits.
    source: common practice, no source
    put_after: water in the glass
"""
ALONE = """\
name: own cure
title: Own cure
symptom: [whistle trouble]
steps:
  - id: one
    say: Is it open?
    asks: whistle
    kind: state
    answers: [{state: cured, say: [whistle works again]}]
    why: It must be open.
    source: common practice, no source
    after: [two]
  - id: two
    say: Is it clean?
    asks: whistle
    kind: state
    answers: [{state: cured, say: [whistle works again]}]
    why: It must be clean.
    source: common practice, no source
    after: [one]
"""


def changed(old: str, new: str) -> str:
    assert old in OWN
    return OWN.replace(old, new)


WRONG: dict[str, tuple[str, str, str]] = {
    "an unknown step": (changed("blower on", "blower off on"), "12:16", "no step"),
    "an answer that cannot be spoken": (changed("is blown]", "is blown 2]"), "9:36", "lower-case"),
    "an answer that means something else": (
        changed("[whistle is blown]", "[regulator is shut]"), "5:1", "already means",
    ),
    "a form that sounds like another": (
        changed("[{state: blown, say: [whistle is blown]}]",
                "[{state: on, say: [whistle on]}, {state: off, say: [whistle off]}]"),
        "5:1", "sound alike",
    ),
    "a unit without a translation": (changed("kind: act", "kind: act\n    due: 5 atmos"), "9:10",
                                     "atmos"),
    "a pressure that the valve never lets come": (
        changed("kind: act", "kind: act\n    due: 180 psi"), "5:1", "never due",
    ),
    "a limit outside the gauge": (
        changed("kind: act\n    answers: [{state: blown, say: [whistle is blown]}]",
                "kind: value\n    at_most: 300 psi\n    too_high: Too high.")
        .replace("asks: whistle", "asks: pressure"), "5:1", "outside the pressure gauge",
    ),
    "a prompt too long": (
        changed("Blow the whistle.", "Blow it once, and again, and then once more."),
        "5:1", "acts at once",
    ),
    "a dead list": (changed("extends: raising_steam\n", ""), "1:1", "when is this list"),
}  # fmt: skip


@pytest.mark.parametrize("name", WRONG)
@pytest.mark.parametrize("verb", ["check", "run"])
def test_a_wrong_list_is_refused_with_its_place(
    name: str, verb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text, place, told = WRONG[name]
    file = tmp_path / "mine.yaml"
    file.write_text(text, encoding="utf-8")
    code, said = tried(verb, file, tmp_path, capsys)
    assert code == (1 if verb == "check" else 2)
    assert any(line.startswith(f"{file}:{place}: ") and told in line for line in said), said
    assert not list((tmp_path / "books").glob("*")), "nothing began"


def tried(
    verb: str, file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> tuple[int, list[str]]:
    """The exit code, and the lines of problems."""
    script = tmp_path / "script.txt"
    script.write_text("00:00:05\tregulator shut\n", encoding="utf-8")
    words = ["check", str(file), "practice"]
    if verb == "run":
        words = ["run", "--script", str(script), "--checklist", str(file)]
        words += ["--engine", "practice", "--out", str(tmp_path / "books")]
    code = main(words)
    out, err = capsys.readouterr()
    return code, [line.removeprefix("footplate: ") for line in (out + err).splitlines()]


def test_a_killer_that_lapses_into_nothing_is_a_caution(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text(LAPSES, encoding="utf-8")
    assert main(["check", str(file)]) == 0
    out, err = capsys.readouterr()
    (told,) = [line for line in (out + err).splitlines() if line.startswith("caution: ")]
    assert told.startswith(f"caution: {file}:5:1: step 'whistle dry': it lapses once she is in st")
    assert main(["check", str(file), "--json"]) == 0
    (record,) = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert (record["grade"], record["line"]) == ("caution", 5)


def test_the_list_itself_is_right(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text(OWN, encoding="utf-8")
    assert tried("check", file, tmp_path, capsys)[0] == 0
    assert tried("run", file, tmp_path, capsys)[0] == 0


def test_steps_that_wait_for_each_other_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "cure.yaml"
    file.write_text(ALONE, encoding="utf-8")
    code, said = tried("run", file, tmp_path, capsys)
    assert code == 2
    assert any("comes later" in line or "wait for each other" in line for line in said), said


@pytest.mark.parametrize(
    ("changes", "places"),
    [
        ({"kind: act": "kind: acts", "title: Mine\n": ""}, ["1:1", "7:11"]),
        ({"Blow the whistle.": "One, two, three.", "[whistle is blown]": "[feed is on]"},
         ["5:1", "5:1"]),
    ],
    ids=["of form", "of sense"],
)  # fmt: skip
def test_all_problems_come_at_once(
    changes: dict[str, str], places: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = OWN
    for old, new in changes.items():
        text = text.replace(old, new)
    file = tmp_path / "mine.yaml"
    file.write_text(text, encoding="utf-8")
    _, said = tried("check", file, tmp_path, capsys)
    told = [line.removeprefix(f"{file}:") for line in said if line.startswith(str(file))]
    assert [one.split(": ")[0] for one in told] == places, said


@pytest.mark.parametrize("name", ["practice", "copper", "fullsize", "firing", "emergencies"])
def test_a_shipped_file_may_be_named_by_its_stem(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", name]) == 0


def test_a_stem_that_is_none_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "practise"]) == 2
    assert "did you mean 'practice'?" in capsys.readouterr().err


def emergencies(tmp_path: Path, old: str, new: str) -> Path:
    text = (places.checklists_folder() / "emergencies.yaml").read_text(encoding="utf-8")
    assert old in text
    file = tmp_path / "own_emergencies.yaml"
    file.write_text(text.replace(old, new), encoding="utf-8")
    return file


def test_an_owners_emergencies_take_the_place_of_ours(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = emergencies(tmp_path, "general: yes", "general: no")
    file.write_text(
        file.read_text(encoding="utf-8")
        .replace("Stand clear. Keep everybody away.", "Everybody behind the rope.")
        .replace("say: [steam escaping,", "say: [steam blowing out, steam escaping,"),
        encoding="utf-8",
    )
    script = tmp_path / "script.txt"
    script.write_text("00:00:05\tsteam blowing out\n", encoding="utf-8")
    assert main(["run", "--script", str(script), "--checklist", str(file), "--engine", "practice",
                 "--out", str(tmp_path / "books"), "--json"]) == 0  # fmt: skip
    assert "Everybody behind the rope." in capsys.readouterr().out


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("alarms: [over-pressure]", "alarms: [overpressure]", "did you mean 'over-pressure'?"),
        ("alarms: [over-pressure]", "alarms: [low watr]", "danger 'over-pressure'"),
        ("    alarms: [glass broken]\n", "", "its own name belongs in 'alarms'"),
    ],
)
def test_emergencies_that_would_never_be_said_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, told: str
) -> None:
    file = emergencies(tmp_path, old, new)
    code, said = tried("run", file, tmp_path, capsys)
    assert code == 2
    assert any(told in line for line in said), said


def test_the_report_says_which_file_each_step_came_from(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text(OWN, encoding="utf-8")
    assert tried("run", file, tmp_path, capsys)[0] == 0
    (journal,) = (tmp_path / "books").glob("*.jsonl")
    page = tmp_path / "log.html"
    assert main(["report", str(journal), "--out", str(page)]) == 0
    text = page.read_text(encoding="utf-8")
    steps = len(load_checklist(places.checklists_folder() / "raising_steam.yaml").steps)
    told = f"steps from this file: whistle tried (line 5); {steps} from the assistant&#x27;s own"
    assert told in text or told.replace("&#x27;", "'") in text


def test_ten_thousand_mistakes_are_told_soon_the_first_hundred_and_a_count(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "many.csv"
    rows = (f"00:{n // 60 % 60:02}:{n % 60:02},pressure,{n},furlong\n" for n in range(10_000))
    file.write_text("time,what,value,unit\n" + "".join(rows))
    assert quickest_s(lambda: main(["check", str(file)]), times=2) < 2.0
    out, err = capsys.readouterr()
    assert len(out.splitlines()) == 2 * MOST_TOLD
    assert "more problems" in err


def test_senseless_figures_are_asked_about_and_are_no_problem(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "own.yaml"
    path.write_text(find_engine("practice").text.replace("steel: 420 kg", "steel: 42000 kg"))
    assert main(["check", str(path)]) == 0
    out = capsys.readouterr().out
    assert f"caution: {path}:8:1: 42000 kg of metal around 110 litre: is that right?" in out
