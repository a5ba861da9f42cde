"""How the posterior of an adapter is sharpened or softened, found on people left out.

Of several evidence exponents the greatest with which what is said to be sure is right often enough,
in quiet and in noise each. Knows recordings and adapters; whom it is fitted on, nothing is judged
by.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import numpy as np

from assistant.lab.benches.ears import Ear
from assistant.lab.benches.hear_numbers import (
    LEVELS_DB,
    RECORDED,
    Hearing,
    NumberBench,
    Place,
    hear_all,
)
from assistant.recogniser.adapter import CALIBRATION, read_adapter, write_adapter
from assistant.recogniser.snr import Noise

EXPONENTS = (0.9, 1.0, 1.1, 1.25, 1.4, 1.6, 1.8, 2.0, 2.3, 2.6, 3.0)
MOST_WRONG = 0.005  # of what is said at 0.99 or more
_SAID = 0.99
QUIET = (Place("clean"), Place("engine", 20.0))
NOISY = (*(Place("engine", level) for level in LEVELS_DB), Place(RECORDED, 5.0))


def calibrated(
    recordings: Path, noise: Noise, adapter: Path, jobs: int, exponents: Sequence[float] = EXPONENTS
) -> Iterator[str]:
    """Fit the exponents and write them into the adapter's file; what was found, line by line.

    jobs: processes. Without recordings of numbers the file stays as it is.
    """
    plan = NumberBench(
        recordings, noise, [Ear("", adapter)], "calibrate", (*QUIET, *NOISY), jobs=jobs,
        exponents=exponents,
    )  # fmt: skip
    heard = hear_all(plan)
    if not heard:
        yield "no numbers/ among the recordings: not calibrated"
        return
    yield "exponent, place: takes; said at 0.99 or more, of these right; accepted right and wrong"
    for (name, place), hearings in heard.items():
        yield f"{name:>5}, {place!s:<15} {_counts(hearings)}"
    chosen = []
    for places in (QUIET, NOISY):
        together = {
            one: [each for place in places for each in heard[f"{one:g}", place]]
            for one in exponents
        }
        chosen.append(greatest_honest(together))
    write_adapter(adapter, {**read_adapter(adapter), CALIBRATION: np.array(chosen, np.float32)})
    yield f"written into {adapter.name}: {chosen[0]:g} in quiet, {chosen[1]:g} in noise"


def greatest_honest(heard: Mapping[float, Sequence[Hearing]]) -> float:
    """Of some exponents the greatest with which no more than `MOST_WRONG` of what is said at 0.99
    or more is wrong, else the least. A take that is wrong in several places counts once: they are
    one recording."""
    good = [min(heard)]
    for exponent, hearings in heard.items():
        said = [one for one in hearings if one.probability >= _SAID]
        wrong = {one.take for one in said if not one.right}
        if len(wrong) <= MOST_WRONG * len(said):
            good.append(exponent)
    return max(good)


def _said_and_wrong(hearings: Sequence[Hearing]) -> tuple[int, int]:
    said = [one for one in hearings if one.probability >= _SAID]
    return len(said), sum(not one.right for one in said)


def _counts(hearings: Sequence[Hearing]) -> str:
    said, wrong = _said_and_wrong(hearings)
    accepted = [one for one in hearings if one.sure]
    good = sum(one.right for one in accepted)
    return f"{len(hearings):>5} {said:>5} {said - wrong:>5} {good:>5} {len(accepted) - good:>4}"
