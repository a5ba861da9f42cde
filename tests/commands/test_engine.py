"""`footplate engine`: what a person at an engine knows becomes a file that is right."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from assistant.cli import main
from assistant.config.engine_file import load_engine
from assistant.config.engine_questions import BY_KEY, QUESTIONS, read_answer
from assistant.config.engine_writer import engine_text

ANSWERS = Path(__file__).parent.parent / "data" / "engines"
TEN = sorted(ANSWERS.glob("*.yaml"))
LITRE = 0.001


@pytest.mark.parametrize("answers", TEN, ids=lambda path: path.stem)
def test_ten_engines_that_people_have(
    answers: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mine = tmp_path / "mine.yaml"
    assert main(["engine", "--answers", str(answers), "--out", str(mine)]) == 0
    assert main(["check", str(mine)]) == 0
    engine = load_engine(mine)
    assert not engine.invented
    assert 0.0 < engine.engine.glass.points[0][1] < engine.engine.glass.points[1][1]
    assert "is that right?" not in capsys.readouterr().out  # no figure that is hardly an engine's


def test_there_are_ten() -> None:
    assert len(TEN) == 10


def test_what_was_answered_is_in_the_file(tmp_path: Path) -> None:
    mine = tmp_path / "mine.yaml"
    assert main(["engine", "--answers", str(ANSWERS / "launch.yaml"), "--out", str(mine)]) == 0
    loaded = load_engine(mine)
    engine = loaded.engine
    assert loaded.pressure_unit == "bar"
    assert engine.kind == "launch"
    assert engine.working_pressure_gauge_pa == pytest.approx(5e5)
    assert engine.valve_lifts_gauge_pa == pytest.approx(6e5)
    assert engine.valve_feathers_gauge_pa is None
    assert (engine.glass.lower_mark, engine.glass.upper_mark) == (0.25, 0.85)
    assert engine.usual is not None and engine.usual.seconds == 35 * 60
    assert engine.injector_from_gauge_pa == pytest.approx(2.5e5)
    assert {"hand pump", "injector", "no blower"} == engine.options
    assert engine.guessed == {"volume", "water", "metal"}
    assert (engine.bucket_kg, engine.shovel_kg) == (9.0, 0.8)
    assert engine.water_bucket_m3 == pytest.approx(10 * LITRE)
    assert "a guess" in mine.read_text()


def test_the_guesses_are_near_an_engine_that_is_known() -> None:
    """The shipped engines' own figures, within the three times that `check` allows."""
    for stem in ("practice", "copper", "fullsize"):
        from assistant.config.engine_file import find_engine
        from assistant.config.engine_guess import boiler_of

        engine = find_engine(stem).engine
        metal = max(engine.metal_kg, key=lambda name: engine.metal_kg[name])
        visible = f"{engine.glass.visible_m * 1000:.0f} mm"
        guess = boiler_of({"metal": metal, "visible": visible})
        assert guess.guessed == ("volume", "water", "metal")
        assert 1 / 3 < guess.volume_litre * LITRE / engine.volume_m3 < 3
        assert 1 / 3 < guess.metal_kg / sum(engine.metal_kg.values()) < 3
        assert guess.water_litre[0] < guess.water_litre[1] < guess.volume_litre


@pytest.mark.parametrize(
    ("key", "said", "read"),
    [
        ("lower_mark", "a quarter", "0.25"),
        ("lower_mark", "1/4", "0.25"),
        ("lower_mark", "25 %", "0.25"),
        ("lower_mark", "40 mm", "0.25"),
        ("lower_mark", "three eighths", "0.375"),
        ("wanted", "7", "7 bar"),
        ("wanted", "100 psi", "100 psi"),
        ("visible", "160", "160 mm"),
        ("usually", "45 min to 100 psi", "45 min to 100 psi"),
        ("usually", "45 to 7", "45 min to 7 bar"),
        ("barrel", "420 by 900", "420 mm x 900 mm"),
        ("injector", "from 3", "3 bar"),
        ("injector", "Yes", "yes"),
        ("blower", "N", "no"),
        ("kind", "Launch", "launch"),
        ("plate", "", ""),
        ("plate", "not known", ""),
    ],
)
def test_as_people_answer(key: str, said: str, read: str) -> None:
    assert read_answer(BY_KEY[key], said, {"dial": "bar", "visible": "160 mm"}) == read


@pytest.mark.parametrize(
    ("key", "said", "why"),
    [
        ("lower_mark", "", "must be known"),
        ("lower_mark", "1.5", "the glass goes from 0 to 1"),
        ("lower_mark", "low", "no height of the glass"),
        ("wanted", "much", "no pressure"),
        ("wanted", "0", "more than nothing"),
        ("tank", "12 gallon", "imperial_gallon or US_gallon"),
        ("kind", "lorry", "none of traction, roller"),
        ("barrel", "420 mm", "diameter by length"),
        ("usually", "45 min", "a time and a pressure"),
        ("blower", "perhaps", "yes or no"),
    ],
)
def test_what_is_no_answer_is_told_why(key: str, said: str, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        read_answer(BY_KEY[key], said, {"dial": "bar"})


def typed(monkeypatch: pytest.MonkeyPatch, lines: list[str]) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))


NELL = {
    "name": "Little Nell", "kind": "launch", "metal": "copper", "dial": "bar", "wanted": "5",
    "lifts": "6", "visible": "60", "lower_mark": "a quarter", "upper_mark": "0.85",
}  # fmt: skip


def test_asked_at_a_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    typed(monkeypatch, [NELL.get(question.key, "") for question in QUESTIONS])
    assert main(["engine"]) == 0
    assert load_engine(tmp_path / "little-nell.yaml").engine.name == "Little Nell"
    assert "footplate rehearse --engine little-nell.yaml" in capsys.readouterr().out


def test_a_wrong_answer_and_two_that_do_not_fit_are_asked_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    lines: list[str] = []
    for question in QUESTIONS:
        answer = NELL.get(question.key, "")
        lines += {"kind": ["lorry", answer], "lifts": ["4"]}.get(question.key, [answer])
    typed(monkeypatch, [*lines, "6"])
    assert main(["engine"]) == 0
    said = capsys.readouterr().out
    assert "is none of traction" in said and "is below the wanted pressure" in said
    engine = load_engine(tmp_path / "little-nell.yaml").engine
    assert engine.valve_lifts_gauge_pa == pytest.approx(6e5)


def test_broken_off_nothing_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    typed(monkeypatch, ["Little Nell", "launch"])
    assert main(["engine"]) == 2
    assert "nothing was written" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_all_wrong_answers_of_a_file_at_once_and_no_file_is_overwritten(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = tmp_path / "answers.yaml"
    wrong.write_text("name: X\nkind: lorry\nwanted: much\ncolour: green\n")
    mine = tmp_path / "mine.yaml"
    assert main(["engine", "--answers", str(wrong), "--out", str(mine)]) == 2
    told = capsys.readouterr().err
    for part in ("'colour'", "'kind'", "'wanted'", "'lifts'", "'visible'"):
        assert part in told
    assert not mine.exists()
    mine.write_text("mine\n")
    good = ["engine", "--answers", str(ANSWERS / "launch.yaml"), "--out", str(mine)]
    assert main(good) == 2
    assert mine.read_text() == "mine\n"


def test_a_name_is_taken_as_it_is_written() -> None:
    answers = {key: read_answer(BY_KEY[key], text, {"dial": "bar"}) for key, text in NELL.items()}
    for name in ("Nell's own: #1", "yes", "{a}", "Lottie 'the' Lion"):
        text = engine_text({**answers, "name": name, "visible": "60 mm"})
        from assistant.config.engine_file import engine_from_text

        assert engine_from_text(text, Path("x")).engine.name == name


def test_the_questions_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["engine", "--questions"]) == 0
    listed = capsys.readouterr().out
    assert all(f"{question.key}: {question.words}" in listed for question in QUESTIONS)
