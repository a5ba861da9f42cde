"""The board's page in a browser: nothing stands over something else, and no word is cut.

Every size, light and unit, the shortest and the longest words, every alarm; by what the browser
itself measures (`tests/helpers/board_layout.js`).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import board_pictures
import pytest
from board_page import SIZES, Shown, opened, served

from assistant.boiler.scales import PRESSURE_PA

pytestmark = [pytest.mark.real, pytest.mark.enable_socket]

MEASURE = (Path(board_pictures.__file__).parent / "board_layout.js").read_text(encoding="utf-8")
MEASURE = MEASURE[MEASURE.index("() =>") :]
VIEWS = ("far", "near", "answers", "press", "troubles", "draught", "pick water", "pick pressure")
SHOW = """
  const view = (name) => {
    left();
    page(["far", "near"].includes(name) ? name : "press");
    if (name === "troubles") chooseOther(TROUBLES);
    if (name === "draught") chooseOther(DRAUGHT);
    if (name === "press") chooseOther(CHOICES);
    if (name.startsWith("pick")) pick(name.slice(5));
  };
"""
EVERY = f"""
([pictures, views, lights]) => {{
  const measure = {MEASURE};
  {SHOW}
  const found = [];
  for (const [night, lost] of lights)
    for (const name in pictures)
      for (const each of views) {{
        document.body.classList.toggle("night", night);
        show(pictures[name]);
        by("lost").hidden = !lost;
        view(each);
        for (const what of measure())
          found.push(`${{name}}, ${{each}}${{night ? ", night" : ""}}${{lost ? ", lost" : ""}}: `
            + what);
      }}
  return found;
}}
"""
LIGHTS = [[False, False], [True, True]]  # night, and the banner that the page is lost


def states() -> dict[str, str]:
    """Every state in psi and bar, the longest in every unit, as the server sends it."""
    return {
        f"{name} in {unit}": json.dumps(board_pictures.in_unit(picture, unit))
        for name, picture in board_pictures.by_name().items()
        for unit in (("psi", "bar") if name in ("shortest", "usual") else PRESSURE_PA)
    }


def alarms() -> dict[str, str]:
    """Every alarm of the table alone."""
    pictures = board_pictures.each_alarm()
    return {picture["alarms"][0]["name"]: json.dumps(picture) for picture in pictures}


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_no_boxes_meet_and_no_word_is_cut(chromium: Any, size: tuple[int, int]) -> None:
    with served(Shown(board_pictures.usual())) as server, opened(chromium, server, size) as page:
        found = page.evaluate(EVERY, [states(), list(VIEWS), LIGHTS])
        found += page.evaluate(EVERY, [alarms(), ["far"], [[False, False]]])
        found += page.evaluate(EVERY, [alarms(), ["press"], [[True, True]]])
    assert found == []


FAULTS = {
    "a number over its age": ("far", "by('pressure').style.fontSize = '300px'", "#pressure"),
    "a button over another": ("far", "by('answers').children[0].style.marginBottom = '-60px'",
        'button "Right" meets'),
    "a banner over the page": ("far", "by('line').style.cssText = 'position: fixed; inset: 0'",
        "meets #line"),
    "a line that is cut": ("far", "by('line').style.fontSize = '90px'", "#line"),
    "words wider than a button": ("press", "by('choices').children[0].style.fontSize = '99px'",
        "#choices button"),
    "a button off the page": ("far", "by('night').style.transform = 'translateY(60px)'",
        "#night leaves the page"),
    "details without a break": ("near", "by('details').style.whiteSpace = 'nowrap'",
        "cut at the side"),
}  # fmt: skip


def test_the_measure_sees_each_kind_of_fault(chromium: Any) -> None:
    """On a page that is spoiled on purpose, and well again after it."""
    with served(Shown(board_pictures.longest())) as server, opened(chromium, server) as page:
        measure, unseen = f"({MEASURE})()", []
        for fault, (view, spoil, word) in FAULTS.items():
            page.reload()
            page.locator("#unit:not(:empty)").wait_for()
            page.evaluate(f"page('{view}')")
            assert page.evaluate(measure) == []
            page.evaluate(spoil)
            if not any(word in line for line in page.evaluate(measure)):
                unseen.append(fault)
    assert unseen == []


def test_words_that_came_while_another_page_was_shown_fit_as_well(chromium: Any) -> None:
    """A box that is not shown has no size to fit words into."""
    alarmed = json.dumps(board_pictures.each_alarm()[0])
    with served(Shown(board_pictures.longest())) as server, opened(chromium, server) as page:
        page.evaluate("page('near')")
        page.evaluate("text => show(text)", json.dumps(board_pictures.widest()))
        page.evaluate("text => show(text)", alarmed)
        page.evaluate("page('far')")
        assert page.evaluate(f"({MEASURE})()") == []
