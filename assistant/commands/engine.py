"""`footplate engine`: asks for an engine and writes her file."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Callable
from pathlib import Path

from assistant.commands.output import Out
from assistant.config.atomic_write import write_whole
from assistant.config.engine_file import EngineFile, engine_from_text
from assistant.config.engine_questions import BY_KEY, QUESTIONS, Question, read_answer
from assistant.config.engine_sense import engine_cautions
from assistant.config.engine_writer import engine_text
from assistant.config.positioned_yaml import Problems, Scalar, parse, read_text
from assistant.config.suggest import did_you_mean, in_quotes
from assistant.errors import FileWrongError, InputWrongError
from assistant.journal.lock import slug

# Which question to put again when the file that the answers make is wrong, by the key it names.
_ASKS = {
    "working_pressure": "wanted", "allowed_pressure": "plate", "lifts": "lifts",
    "feathers": "feathers", "top": "gauge_top", "lower_mark": "lower_mark",
    "upper_mark": "upper_mark", "cold_fill": "cold_fill", "water": "litres", "volume": "volume",
    "wood_until": "wood_until", "from": "injector", "usually": "usually", "visible": "visible",
}  # fmt: skip
MOST_ROUNDS = 20  # of putting a question again because two answers do not fit


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `engine`."""
    parser.add_argument(
        "--out", type=Path, metavar="FILE", help="where her file goes (her name, in this folder)"
    )
    parser.add_argument(
        "--answers", type=Path, metavar="FILE",
        help="answers instead of a terminal: a line `question: answer` for each; see --questions",
    )  # fmt: skip
    parser.add_argument("--questions", action="store_true", help="list the questions and end")


def run(given: argparse.Namespace, out: Out) -> int:
    """Ask, write the file, say what comes next; returns 0."""
    if given.questions:
        for question in QUESTIONS:
            out.line(
                f"{question.key}: {question.words}{'' if question.must else ' (may be empty)'}"
            )
        return 0
    if given.answers is not None:
        answers = answers_of(given.answers)
        engine = _engine(answers)
    else:
        out.line("Enter alone: not known. Ctrl-C: nothing is written.")
        answers, engine = asked(_typed, out)
    path = given.out or Path(f"{slug(answers['name'])}.yaml")
    if path.exists():
        raise InputWrongError(f"{path} is there already: name another with --out, or move it away")
    text = engine_text(answers)
    write_whole(path, text.encode("utf-8"))
    out.line(f"Written: {path}")
    if engine.engine.guessed:
        guessed = ", ".join(sorted(engine.engine.guessed))
        out.line(f"Guessed, so times are told with more doubt: {guessed}.")
    for doubt in engine_cautions(EngineFile(engine.engine, path, text)):
        out.line(str(doubt))
    out.line(f"Read it through, then practise on her: footplate rehearse --engine {path}")
    return 0


def _typed(words: str) -> str:
    print(words, file=sys.stderr, flush=True)
    line = sys.stdin.readline()
    if not line:
        raise InputWrongError("the answers ended early: nothing was written")
    return line


def asked(ask: Callable[[str], str], out: Out) -> tuple[dict[str, str], EngineFile]:
    """Every question put until it has an answer that fits the others. ask: puts one."""
    answers: dict[str, str] = {}
    for question in QUESTIONS:
        _put(question, ask, answers, out)
    for _ in range(MOST_ROUNDS):
        try:
            return answers, _engine(answers)
        except FileWrongError as wrong:
            again = _to_ask_again(wrong)
            if again is None:
                raise
            out.line(str(wrong.problems[0]).split(": ", 1)[-1])
            _put(again, ask, answers, out)
    raise InputWrongError("the answers do not fit each other: nothing was written")


def _put(question: Question, ask: Callable[[str], str], answers: dict[str, str], out: Out) -> None:
    while True:
        try:
            answers[question.key] = read_answer(question, ask(question.words), answers)
            return
        except ValueError as wrong:
            out.line(f"  {wrong}")


def _to_ask_again(wrong: FileWrongError) -> Question | None:
    named = re.findall(r"'(\w+)'", str(wrong.problems[0]))
    return next((BY_KEY[_ASKS[key]] for key in named if key in _ASKS), None)


def answers_of(path: Path) -> dict[str, str]:
    """The answers of a file, each read as if it had been typed.

    Raises FileWrongError with all problems.
    """
    problems = Problems(str(path))
    table = parse(read_text(path), problems)
    problems.stop_if_any()
    assert table is not None  # parse added a problem otherwise
    answers: dict[str, str] = {}
    for key, (place, _) in table.entries.items():
        if key not in BY_KEY:
            problems.add(place, f"no question {in_quotes(key)}{did_you_mean(key, BY_KEY)}")
    for question in QUESTIONS:
        node = table.get(question.key)
        if node is not None and not isinstance(node, Scalar):
            problems.add(node, f"'{question.key}': one answer is wanted, not a list or a table")
            continue
        try:
            answers[question.key] = read_answer(question, node.text if node else "", answers)
        except ValueError as wrong:
            problems.add(node or table, f"'{question.key}': {wrong}")
    problems.stop_if_any()
    return answers


def _engine(answers: dict[str, str]) -> EngineFile:
    """The engine that the answers make; FileWrongError when they do not fit each other."""
    return engine_from_text(engine_text(answers), Path("her file"))
