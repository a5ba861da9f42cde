"""`footplate hear`: sound files in, what was understood out."""

from __future__ import annotations

import argparse
import time
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.commands import options
from assistant.commands.output import Out
from assistant.grammar.meaning_json import meaning_json
from assistant.messages import SPEECH_RATE_HZ, Expected, Report
from assistant.understanding.context import Context
from assistant.understanding.decide import decide
from assistant.understanding.decision import Decision

if TYPE_CHECKING:
    from assistant.belief.estimate import Belief


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `hear`."""
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
    parser.add_argument(
        "--expect", choices=("pressure", "water", "answer", "any"), default="any",
        help="what was asked before",
    )  # fmt: skip
    options.add_engine(parser)
    options.add_ear(parser)
    parser.add_argument(
        "--pressure-now",
        type=options.pounds,
        metavar="PSI",
        help="what the boiler is believed to be at",
    )
    parser.add_argument("--json", action="store_true", help="one JSON object a file")


def run(given: argparse.Namespace, out: Out) -> int:
    """Hear each file; returns 0."""
    from assistant.belief import estimate
    from assistant.recogniser.detector import utterance

    sounds = [options.sound_of(file) for file in given.files]
    hearer = options.hearer(given, out)
    expected = Expected(given.expect)
    belief = _belief(given, out)
    moment = Context(
        expected,
        lambda report: None if belief is None else estimate.chance(belief, report),
        lambda report: None if belief is None else estimate.objection(belief, report),
    )
    hearer.prepare(expected)
    hearer.warm(expected)
    for file, sound in zip(given.files, sounds, strict=True):
        speech = utterance(sound)
        began = time.perf_counter()
        heard = hearer.heard(speech, expected, 0.0)
        decision = decide(heard, moment)
        _print(
            out,
            file,
            heard.text,
            decision,
            len(sound) / SPEECH_RATE_HZ,
            time.perf_counter() - began,
        )
    return 0


def _belief(given: argparse.Namespace, out: Out) -> Belief | None:
    if given.pressure_now is None and given.engine is None:
        return None
    from assistant.belief import estimate

    engine = options.engine_of(given, out).engine
    belief = estimate.begin(engine, 0.0)
    if given.pressure_now is not None:
        belief = estimate.update(belief, Report("fire", "lit"), 0.0)
        belief = estimate.update(belief, Report("pressure", given.pressure_now, "psi"), 1.0)
        belief = estimate.predict(belief, 60.0)
    return belief


def _print(
    out: Out, file: Path, words: str, decision: Decision, audio_s: float, latency_s: float
) -> None:
    meaning = None if decision.meaning is None else meaning_json(decision.meaning)
    out.record(
        {
            "file": str(file),
            "heard": words,
            "meaning": meaning,
            "decision": decision.kind,
            "audio_s": round(audio_s, 3),
            "latency_s": round(latency_s, 3),
            "probability": round(decision.probability, 4),
            "reason": decision.reason,
            "rule": decision.rule,
        }
    )
    if not out.json:
        out.line(f"{file}: {words!r} -> {meaning} ({decision.kind}; {decision.reason})")
