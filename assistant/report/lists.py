"""Which checklists a session used, and which step came from which file. Knows no page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from assistant.config.checklist_file import checklist_from_text
from assistant.errors import FileWrongError
from assistant.journal.header import Header, KeptText
from assistant.procedure.overlay import step_origins


def list_rows(header: Header) -> Iterator[tuple[str, str]]:
    """A line for the assistant's own lists, and one for each list of the owner's, step by step."""
    texts = header.texts_of("checklist")
    if not texts:
        yield "lists", "none"
        return
    home = Path(texts[0].file).parent  # the assistant's own come first, all in one folder
    shipped = [text for text in texts if Path(text.file).parent == home]
    yield "lists", f"{len(shipped)} of the assistant's own"
    bases = {Path(text.file).stem: text.text for text in shipped}
    for text in texts:
        if text not in shipped:
            yield f"owner's list {Path(text.file).name}", _owner_steps(text, bases)
    emergencies = header.text_of("emergencies")
    if emergencies is not None and Path(emergencies.file).parent != home:
        name = Path(emergencies.file).name
        yield "emergencies", f"owner's file {name}, SHA-256 {emergencies.sha256}"


def _owner_steps(owner: KeptText, bases: dict[str, str]) -> str:
    """The steps that came from the owner's file, and how many from the assistant's own list."""
    try:
        places = step_origins(checklist_from_text(owner.text, Path(owner.file), bases))
    except FileWrongError as wrong:
        return f"cannot be read any more: {wrong.problems[0].message}"
    steps = [f"{step} (line {line})" for step, (file, line) in places.items() if file == owner.file]
    rest = len(places) - len(steps)
    listed = f"steps from this file: {', '.join(steps) or 'none'}"
    return f"{listed}; {rest} from the assistant's own list; SHA-256 {owner.sha256}"
