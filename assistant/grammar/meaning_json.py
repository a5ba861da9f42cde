"""Meanings as JSON, for other programs to read. Knows no words.

A reading is {"reading", "value", "unit"} (unit null for a state); an answer {"answer"}; an order
{"command"} with "value" and "unit" where it has them; a correction {"correction": reading}; several
reports {"readings": [...]}; what was not understood is null.
"""

from __future__ import annotations

from typing import Any

from assistant.messages import Answer, Correction, Meaning, Order, Report, Several

_Json = dict[str, Any]


def _reading(report: Report) -> _Json:
    return {"reading": report.what, "value": report.value, "unit": report.unit}


def meaning_json(meaning: Meaning | None) -> _Json | None:
    """The JSON shape of a meaning.

    >>> meaning_json(Report("pressure", 75.0, "psi"))
    {'reading': 'pressure', 'value': 75.0, 'unit': 'psi'}
    """
    match meaning:
        case None:
            return None
        case Report():
            return _reading(meaning)
        case Answer(word):
            return {"answer": word}
        case Correction(report):
            return {"correction": _reading(report)}
        case Several(reports):
            return {"readings": [_reading(report) for report in reports]}
        case Order(name, None, None):
            return {"command": name}
        case Order(name, value, unit):
            return {"command": name, "value": value, "unit": unit}
