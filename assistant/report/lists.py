"""Which lists a session walked, and which step came from which file. Knows texts, no page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from assistant.config.checklist_file import checklist_from_text
from assistant.errors import FileWrongError
from assistant.journal.header import Header, KeptText
from assistant.procedure.overlay import step_origins


def lists_told(header: Header) -> Iterator[tuple[str, str]]:
    """A line for the assistant's own lists, and one for each list of the owner's, step by step."""
    kept = header.texts_of("checklist")
    if not kept:
        yield "lists", "none"
        return
    home = Path(kept[0].file).parent  # the assistant's own stand first, all in one folder
    ours = [one for one in kept if Path(one.file).parent == home]
    yield "lists", f"{len(ours)} of the assistant's own"
    bases = {Path(one.file).stem: one.text for one in ours}
    for one in kept:
        if one not in ours:
            yield f"owner's list {Path(one.file).name}", _own_steps(one, bases)
    said = header.text_of("emergencies")
    if said is not None and Path(said.file).parent != home:
        yield "emergencies", f"owner's file {Path(said.file).name}, SHA-256 {said.sha256}"


def _own_steps(one: KeptText, bases: dict[str, str]) -> str:
    """Every step of the list as it was walked, with its file where that is the owner's."""
    try:
        places = step_origins(checklist_from_text(one.text, Path(one.file), bases))
    except FileWrongError as wrong:
        return f"cannot be read any more: {wrong.problems[0].message}"
    own = [f"{step} (line {line})" for step, (file, line) in places.items() if file == one.file]
    rest = len(places) - len(own)
    told = f"steps from this file: {', '.join(own) or 'none'}"
    return f"{told}; {rest} from the assistant's own list; SHA-256 {one.sha256}"
