"""What was measured of a glass while filling: points beside the engine file, never over it."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from assistant.boiler.figures import Engine
from assistant.boiler.scales import LITRE_M3
from assistant.config.engine_glass import points_of
from assistant.config.field_readers import want_keys, want_table, want_text
from assistant.config.positioned_yaml import Problems, parse, read_text
from assistant.errors import FileWrongError, Problem, WorldFailedError

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
    """The measured points that a text holds (a file's, or one kept in a journal)."""
    found = Problems(str(path))
    table = parse(text, found)
    found.stop_if_any()
    assert table is not None  # parse added a problem otherwise
    want_keys(found, table, ("calibration_of", "points"))
    name = want_text(found, table, "calibration_of", 80)
    volume_m3 = None if engine is None else engine.volume_m3
    points = points_of(found, want_table(found, table, "points"), volume_m3)
    if engine is not None and name is not None and name != engine.name:
        place = table.entries["calibration_of"][1]
        found.add(place, f"of another engine: '{name}', not '{engine.name}'")
    found.stop_if_any()
    return Calibration(name or "", points or ())


def with_calibration(engine: Engine, calibration: Calibration) -> Engine:
    """The engine with the measured points in place of its file's."""
    return replace(engine, glass=replace(engine.glass, points=calibration.points))


def calibrated(engine: Engine, engine_path: Path) -> Engine:
    """The engine with the points measured earlier, if there are any beside its file."""
    path = calibration_path(engine_path)
    return with_calibration(engine, load_calibration(path, engine)) if path.is_file() else engine


def write_calibration(
    engine_path: Path, engine: Engine, points: Iterable[tuple[float, float]]
) -> Path:
    """Keep measured points, all or nothing; the path written.

    Raises FileWrongError (nothing is written) when the points cannot be true: fewer than two, not
    rising, off the glass, more water than the boiler holds; WorldFailedError when the disk says no.
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
    _replace(path, "\n".join(lines) + "\n")
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


def _replace(path: Path, text: str) -> None:
    """Write beside, then take the name: a crash leaves the old file or the new, never half."""
    beside = path.with_name(path.name + ".new")
    try:
        with beside.open("w", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as trouble:
        with contextlib.suppress(OSError):
            beside.unlink()
        reason = trouble.strerror or str(trouble)
        raise WorldFailedError(f"{path}: cannot be written: {reason}") from trouble
