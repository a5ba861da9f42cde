"""From one question to the next: which questions there are, their times, and the memory."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from deaf_recogniser import Deaf

from assistant.lab.benches import question_changes
from assistant.lab.days.random_day import config_of
from assistant.messages import Expected


def test_the_questions_of_whole_practices_are_all_changes() -> None:
    config = config_of("practice", "psi", False)
    questions = question_changes.practice_questions(config, 60)
    assert len(questions) == 61
    assert all(one != other for one, other in pairwise(questions))
    assert {"state", "pressure", "water"} <= {expected.kind for expected in questions}
    assert all(expected.elsewhere == config.named_forms for expected in questions)


@pytest.mark.real  # what is measured is time and memory
def test_every_change_is_timed_and_the_memory_is_told() -> None:
    named = config_of("practice", "psi", False).named_forms
    questions = [Expected(kind, elsewhere=named) for kind in ("any", "pressure", "water", "any")]
    lines = list(question_changes.bench_lines(Deaf, questions, [np.zeros(16_000, np.float32)]))
    assert lines[0] == "questions: 3 changes among 3 questions"
    changes = [line.split()[-4:] for line in lines if "all changes" in line]
    assert [figures[0] for figures in changes] == ["3", "3"]
    assert all(0.0 <= float(figures[1]) <= float(figures[3]) for figures in changes)
    compiled = next(line for line in lines if line.startswith("compiled"))
    assert 0.0 < float(compiled.split()[-1]) < 50.0  # the sentences themselves, as it has no ear
    assert lines[-1].startswith("after 3 utterances")
