"""Rules in plain words, what the page offers to tap, and an answer without a sheet."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from ampleroom.ask import ask
from ampleroom.editions import NEWEST_COMPARED, READINGS, CodeBook
from ampleroom.editions.adoption import adopted_edition, adoptions
from ampleroom.errors import NameUnknown
from ampleroom.explain import explain, explanation_json, reading_json, rules_json
from ampleroom.job.cables import COMMON
from ampleroom.quantities import number
from ampleroom.report import CAUTION
from ampleroom.rules import RULES
from ampleroom.web.engine.request import offered_editions, offered_year, text_of


def answer_ask(data: dict[str, Any]) -> dict[str, Any]:
    """What ``ask --json`` prints of one box typed in a line, and how many more of each in words."""
    place = data.get("adopted")
    adopted = adopted_edition(place)[1] if place and place.strip() else None
    found = ask(text_of(data, "question"), data.get("edition"), adopted)
    told = found.to_json()
    for at, several in found.more.items():
        told["more"][at] = [
            {**told_fit, "text": fit.text} for told_fit, fit in zip(told["more"][at], several, strict=True)
        ]
    return told


def answer_rule(data: dict[str, Any]) -> dict[str, Any]:
    """A rule or a disputed point in plain words; the latter in the form of a rule too, for the page."""
    name = text_of(data, "name").lower()
    if name in READINGS:
        found = reading_json(READINGS[name])
        return {
            "schema": "ampleroom-rule/1",
            "reading": found,
            **found,
            "title": name,
            "says": [found["asks"]],
            "why": "",
            "caution": CAUTION,
        }
    if name == "box-fill":
        name = "box-fill-conductors"
    if name not in RULES:
        raise NameUnknown("rule or disputed point", name, [*RULES, *READINGS])
    year = data.get("edition")
    return explanation_json(explain(name, None if year is None else offered_year(year)))


def answer_rules(data: dict[str, Any]) -> dict[str, Any]:
    """All rules, and every disputed point."""
    return rules_json()


def answer_words(data: dict[str, Any]) -> dict[str, Any]:
    """What the page offers to tap: boxes, cables, devices, clamps, editions."""
    rows = CodeBook(NEWEST_COMPARED)["box_room.standard"]["rows"]
    return {
        "boxes": [{"line": f"{row['shape']} {row['size']}", "volume": number(Decimal(row["volume"]))} for row in rows],
        "cables": list(COMMON),
        "old_cables": ["14/2 old", "12/2 old", "14/2 ac", "12/2 mc"],
        "sizes": ["14", "12", "10"],
        "devices": ["switch", "3-way switch", "receptacle", "gfci receptacle", "dimmer", "timer"],
        "clamps": ["inside", "outside", "tabs", "none", "?"],
        "editions": offered_editions(),
        "newest": NEWEST_COMPARED,
        "adopted": [{"place": found.place, "edition": found.edition, "text": found.known} for found in adoptions()],
        "caution": CAUTION,
    }
