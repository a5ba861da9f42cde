"""What nobody asked about: in which column it counts, and the lines of the tables."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from assistant.lab.benches import anytime_takes, anytime_tallies, listening, talk_anytime
from assistant.lab.benches.anytime_situations import FIRE_IN, NOTHING, YES_OR_NO, Situations
from assistant.lab.benches.anytime_takes import Take
from assistant.lab.benches.decision_outcomes import Verdict, kind_of
from assistant.lab.benches.nearest_forms import NearPair
from assistant.lab.benches.talk_trials import VOICES
from assistant.lab.days.random_day import config_of
from assistant.messages import OUT_OF_SIGHT, Alternative, Answer, DecisionKind, Meaning, Report
from assistant.recogniser.base import Grammar, NBest, Sound
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.simulator.voices import SynthesiserVoice
from assistant.understanding.decision import Decision

OPEN, SHUT, OUT = Report("blower", "open"), Report("blower", "shut"), Report("gear", "out")
NO_WATER = Report("water", OUT_OF_SIGHT)
YES = Answer("yes")


class Says:
    """A recogniser that hears the same whatever is said."""

    name = "says"

    def __init__(self, meaning: Meaning, words: str) -> None:
        found = (Alternative(meaning, words, 0.9999),)
        self._n_best = NBest(self.name, found, 0.0, -0.1, words)

    def prepare(self, grammar: Grammar) -> None:
        """Nothing to prepare."""

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        return self._n_best


@pytest.fixture(scope="module")
def situations() -> Situations:
    return Situations(config_of("practice", "psi", False))


@pytest.fixture
def silent(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody is there to say it: the fake ear hears what it likes."""

    def nothing(voice: SynthesiserVoice, text: str, rng: np.random.Generator) -> Sound:
        return np.full(16_000, 0.01, np.float32)

    monkeypatch.setattr(anytime_takes, "said_in_a_room", nothing)


def lines_of(situations: Situations, ear: Says, table: str, share: int) -> list[str]:
    bench = talk_anytime.AnytimeBench(
        situations, RecognitionPipeline(ear), lambda whole: [whole], share=share
    )
    return list(talk_anytime.bench_lines(bench, [table]))


def figures(lines: list[str], row: str) -> list[float]:
    line = next(line for line in lines if line.startswith(row))
    return [float(cell) for cell in line.removeprefix(row).replace("-", "0").split()]


@pytest.mark.usefixtures("silent")
def test_a_wrong_acceptance_is_counted_as_wrong_in_every_situation(situations: Situations) -> None:
    lines = lines_of(situations, Says(OPEN, "blower is open"), "named", 120)
    takes = anytime_takes.share_of(anytime_takes.named_takes(situations), 120)
    meant = sum(take.meant == OPEN for take in takes)
    assert not meant
    for row in ("nothing open 10 dB", "yes or no 10 dB", "all 10 dB"):
        count, *shares = figures(lines, row)
        assert count
        assert shares[:6] == [0.0, 0.0, 0.0, 0.0, 0.0, 100.0], row
    assert f"  {takes[0].said} -> blower: open, taken: 1" in lines
    assert any(line.startswith("said -> understood") for line in lines)


@pytest.mark.usefixtures("silent")
def test_a_yes_that_nobody_said_is_counted(situations: Situations) -> None:
    lines = lines_of(situations, Says(YES, "that's right"), "yes", 100)
    assert figures(lines, "all 10 dB") == [10, 10, 0, 0, 0, 0, 0, 0]


@pytest.mark.usefixtures("silent")
def test_other_talk_that_was_taken_is_counted_and_told(situations: Situations) -> None:
    lines = lines_of(situations, Says(OPEN, "blower is open"), "others", 100)
    assert figures(lines, "all 10 dB") == [6, 100, 0, 0, 0, 0]
    assert any("-> blower: open, taken" in line for line in lines)


@pytest.mark.usefixtures("silent")
def test_one_of_a_pair_taken_for_the_other_is_counted(situations: Situations) -> None:
    lines = lines_of(situations, Says(OPEN, "blower is open"), "nearest", 10)
    counts = figures(lines, "all  ")
    assert counts[1] == sum(counts[2:]) == 100
    one = figures(lines, "blower half open | blower open")
    assert one[2] + one[8] == one[1] == 5  # either it was that one, or it was taken for it
    assert one[8] == 3


def verdict(meant: Meaning | None, *decided: tuple[DecisionKind, Meaning | None]) -> Verdict:
    decisions = tuple(Decision(kind, meaning, "") for kind, meaning in decided)
    return Verdict(kind_of(decisions, meant), decisions, 0.1)


@pytest.mark.parametrize(
    ("decided", "column"),
    [
        (("accept", OPEN), "taken"),
        (("accept", NO_WATER), "taken"),
        (("confirm", NO_WATER), "danger?"),
        (("confirm", OPEN), "asked"),
        (("again", OPEN), "again"),
        (("ignore", None), "ignored"),
    ],
)
def test_what_other_talk_counts_as(
    decided: tuple[DecisionKind, Meaning | None], column: str
) -> None:
    assert anytime_tallies.other_column(verdict(None, decided)) == column
    assert column in anytime_tallies.OTHER_COLUMNS


@pytest.mark.parametrize(
    ("decided", "column"),
    [
        (("accept", OUT), "right"),
        (("accept", YES), "yes"),
        (("confirm", YES), "yes?"),
        (("accept", Answer("no")), "other"),
        (("confirm", OPEN), "asked"),
        (("confirm", OUT), "asked"),
        (("again", OUT), "again"),
        (("ignore", None), "ignored"),
    ],
)
def test_what_a_report_counts_as_while_yes_or_no_is_awaited(
    decided: tuple[DecisionKind, Meaning | None], column: str
) -> None:
    assert anytime_tallies.yes_column(verdict(OUT, decided)) == column
    assert column in anytime_tallies.YES_COLUMNS


@pytest.mark.parametrize(
    ("decided", "column"),
    [
        (("accept", OPEN), "right"),
        (("accept", SHUT), "other"),
        (("accept", OUT), "else"),
        (("confirm", SHUT), "other?"),
        (("confirm", OUT), "else?"),
        (("confirm", OPEN), "asked"),
    ],
)
def test_what_one_of_a_pair_counts_as(
    decided: tuple[DecisionKind, Meaning | None], column: str
) -> None:
    assert anytime_tallies.pair_column(verdict(OPEN, decided), SHUT) == column
    assert column in anytime_tallies.PAIR_COLUMNS


def test_to_be_passed_over_is_right_only_where_it_is_not_listened_for(
    situations: Situations,
) -> None:
    yes_or_no = situations.expected(YES_OR_NO, FIRE_IN)
    take = Take("gear is out", VOICES[0], YES_OR_NO, FIRE_IN, yes_or_no, OUT, (1, 1))
    nothing_open = replace(take, expected=situations.expected(NOTHING, FIRE_IN))
    for decided, awaited, open_ in (
        (("ignore", None), "right", "ignored"),
        (("again", OUT), "right", "again"),
        (("accept", SHUT), "wrong", "wrong"),
        (("confirm", SHUT), "asked-", "asked-"),
    ):
        came = verdict(OUT, decided)  # type: ignore[arg-type]
        assert anytime_tallies.named_column(take, came) == awaited
        assert anytime_tallies.named_column(nothing_open, came) == open_


def test_which_rule_passed_over_what_is_listened_for(situations: Situations) -> None:
    expected = situations.expected(NOTHING, FIRE_IN)
    take = Take("gear is out", VOICES[0], NOTHING, FIRE_IN, expected, OUT, (1, 1))
    awaited = replace(take, expected=situations.expected(YES_OR_NO, FIRE_IN))
    ignored = Decision("ignore", None, "", rule="hardly for us")
    missed = Verdict("ignored", (ignored,), 0.1)
    judged = [(take, missed), (take, Verdict("ignored", (), 0.1)), (awaited, missed)]
    rules = anytime_tallies.passed_over([*judged, (take, verdict(OUT, ("accept", OUT)))])
    assert rules == {"hardly for us": 1, "no speech found": 1}
    assert anytime_tallies.passed_over_line(rules).endswith("hardly for us: 1, no speech found: 1")


def test_at_most_thirty_mistakes_are_shown_the_most_frequent_first(situations: Situations) -> None:
    take = Take("gear is out", VOICES[0], NOTHING, FIRE_IN, situations.expected(
        NOTHING, FIRE_IN), OUT, (1, 1))  # fmt: skip
    often = [(take, verdict(OUT, ("accept", SHUT)))] * 2
    asked = [(replace(take, said=f"form {n}"), verdict(OUT, ("confirm", OPEN))) for n in range(40)]
    right = [(take, verdict(OUT, ("accept", OUT)))]
    lines = list(anytime_tallies.mistake_lines(anytime_tallies.mistakes(asked + right + often)))
    assert lines[0].startswith("said -> understood, how often (41 in all")
    assert lines[1] == "  gear is out -> blower: shut, taken: 2"
    assert len(lines) == 1 + anytime_tallies.MOST_MISTAKES
    assert "nothing was taken" in next(anytime_tallies.mistake_lines(anytime_tallies.mistakes([])))


def test_a_row_of_a_pair_names_both(situations: Situations) -> None:
    pair = NearPair(2.0, ("blower open", "blower shut"))
    expected = situations.expected(NOTHING, FIRE_IN)
    take = Take("blower open", VOICES[0], NOTHING, FIRE_IN, expected, OPEN, (1, 1), pair)
    rivals: dict[str, Meaning] = {"blower open": OPEN, "blower shut": SHUT}
    judged = [(take, verdict(OPEN, ("accept", SHUT)))]
    first, every = anytime_tallies.pair_rows(judged, rivals)
    assert first.split()[:5] == ["blower", "open", "|", "blower", "shut"]
    assert first.split()[5:] == ["2.0", "1", "0", "0", "0", "0", "0", "0", "1", "0"]
    assert every.split() == ["all", "-", "1", "0", "0", "0", "0", "0", "0", "1", "0"]


def test_the_command_offers_the_tables_that_there_are() -> None:
    assert listening.ANYTIME_TABLES == talk_anytime.TABLES
