"""A gauge glass's calibration: points measured while filling, in a file beside the engine's."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from assistant.boiler.figures import Engine
from assistant.boiler.scales import LITRE_M3
from assistant.config.atomic_write import write_whole
from assistant.config.engine_glass import points_of
from assistant.config.field_readers import want_keys, want_table, want_text
from assistant.config.positioned_yaml import Problems, parse, read_text
from assistant.errors import FileWrongError, Problem

_SUFFIX = ".calibration"


@dataclass(frozen=True, slots=True)
class Calibration:
    """Measured points of one engine's glass: (height [fraction], cold water [litre]), rising."""

    engine_name: str
    points: tuple[tuple[float, float], ...]


def calibration_path(engine_path: Path) -> Path:
    """Where the measured points of an engine are kept: beside its file.

    >>> calibration_path(Path("engines/mine.yaml")).name
    'mine.calibration'
    """
    return engine_path.with_suffix(_SUFFIX)


def load_calibration(path: Path, engine: Engine | None = None) -> Calibration:
    """The measured points of a file. Raises FileWrongError, also for another engine's file."""
    return calibration_from_text(read_text(path), path, engine)


def calibration_from_text(text: str, path: Path, engine: Engine | None = None) -> Calibration:
    """The measured points of a text (a file's, or one kept in a journal)."""
    problems = Problems(str(path))
    table = parse(text, problems)
    problems.stop_if_any()
    assert table is not None  # parse added a problem otherwise
    want_keys(problems, table, ("calibration_of", "points"))
    name = want_text(problems, table, "calibration_of", 80)
    volume_m3 = None if engine is None else engine.volume_m3
    points = points_of(problems, want_table(problems, table, "points"), volume_m3)
    if engine is not None and name is not None and name != engine.name:
        place = table.entries["calibration_of"][1]
        problems.add(place, f"of another engine: '{name}', not '{engine.name}'")
    problems.stop_if_any()
    return Calibration(name or "", points or ())


def with_calibration(engine: Engine, calibration: Calibration) -> Engine:
    """The engine with the measured points in place of its file's."""
    return replace(engine, glass=replace(engine.glass, points=calibration.points))


def calibrated(engine: Engine, engine_path: Path) -> Engine:
    """The engine with the measured points beside its file, if there are any."""
    path = calibration_path(engine_path)
    return with_calibration(engine, load_calibration(path, engine)) if path.is_file() else engine


def write_calibration(
    engine_path: Path, engine: Engine, points: Iterable[tuple[float, float]]
) -> Path:
    """Write measured points atomically; the path written.

    Raises FileWrongError, and writes nothing, when the points are impossible: fewer than two, not
    rising, off the glass, more water than the boiler holds; WorldFailedError when the disk fails.
    """
    path = calibration_path(engine_path)
    ordered = sorted(points)
    _check_points(path, engine, ordered)
    lines = [
        "# Measured while filling: height in the glass and litres of cold water in the boiler.",
        f"calibration_of: {_quoted(engine.name)}",
        "points:",
        *(f"  {height!r}: {litres!r} litre" for height, litres in ordered),
    ]
    write_whole(path, ("\n".join(lines) + "\n").encode())
    return path


def _check_points(path: Path, engine: Engine, points: list[tuple[float, float]]) -> None:
    most = engine.volume_m3 / LITRE_M3
    reasons = []
    if len(points) < 2:
        reasons.append("two points or more are wanted")
    if any(not 0.0 <= height <= 1.0 for height, _ in points):
        reasons.append("a height is off the glass")
    if any(not 0.0 <= litres <= most for _, litres in points):
        reasons.append(f"the boiler holds {most:g} litre")
    for (low, less), (high, more) in pairwise(points):
        if not (low < high and less < more):
            reasons.append(f"the litres must rise with the height: {less:g} and {more:g}")
    if reasons:
        raise FileWrongError(tuple(Problem(str(path), 0, 0, reason) for reason in reasons))


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
