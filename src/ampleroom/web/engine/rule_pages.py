"""Rules in plain words, what the page offers to tap, and an answer without a sheet."""

from __future__ import annotations

from typing import Any

from ampleroom.ask import ask
from ampleroom.editions import NEWEST_COMPARED, CodeBook
from ampleroom.editions.adoption import adopted_edition, adoptions
from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.explain.as_json import found_json, rules_json
from ampleroom.job.cables import COMMON
from ampleroom.quantities import number
from ampleroom.web.engine.request import offered_editions, offered_year, text_of
from ampleroom.web.engine.view import in_hands, spoken
from ampleroom.words import CAUTION


def answer_ask(data: dict[str, Any]) -> dict[str, Any]:
    """What ``ask --json`` prints of one box typed in a line, and how many more of each in words."""
    place = data.get("adopted")
    adopted = adopted_edition(place)[1] if place and place.strip() else None
    answered = ask(text_of(data, "question"), data.get("edition"), adopted)
    answer = answered.to_json()
    answer["subjects"][0]["says"] = spoken(
        answered.box, in_hands(answered.report.job, answered.box, answered.report.book)
    )
    for at, several in answered.more.items():
        answer["more"][at] = [
            {**fit_json, "text": fit.text} for fit_json, fit in zip(answer["more"][at], several, strict=True)
        ]
    return answer


def answer_rule(data: dict[str, Any]) -> dict[str, Any]:
    """The page that a rule's name, a trade word, a code section or a disputed point means, as ``rule --json`` prints
    it.

    Each has a ``title``. A disputed point has its own fields beside ``reading`` too, for the page.
    """
    year = data.get("edition")
    page = found_json(text_of(data, "name"), None if year is None else offered_year(year))
    if "reading" in page:
        return {**page, **page["reading"], "title": page["reading"]["name"]}
    return page


def answer_rules(data: dict[str, Any]) -> dict[str, Any]:
    """Every rule, the two tables, and every disputed point."""
    return rules_json()


def answer_words(data: dict[str, Any]) -> dict[str, Any]:
    """What the page offers to tap: boxes, cables, devices, clamps, editions."""
    rows = CodeBook(NEWEST_COMPARED)[STANDARD_BOXES].rows
    return {
        "boxes": [{"line": f"{row.shape} {row.size}", "volume": number(row.volume)} for row in rows],
        "cables": list(COMMON),
        "old_cables": ["14/2 old", "12/2 old", "14/2 ac", "12/2 mc"],
        "sizes": ["14", "12", "10"],
        "devices": ["switch", "3-way switch", "receptacle", "gfci receptacle", "dimmer", "timer"],
        "clamps": ["inside", "outside", "tabs", "none", "?"],
        "editions": offered_editions(),
        "newest": NEWEST_COMPARED,
        "adopted": [
            {"place": adoption.place, "edition": adoption.edition, "text": adoption.known} for adoption in adoptions()
        ],
        "caution": CAUTION,
    }
