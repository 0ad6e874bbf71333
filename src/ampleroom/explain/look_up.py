"""Finding a rule page: by its name, by a word of the trade, or by a section of the code in any edition.

The index of sections is made from the tables: every citation of every edition, rows with their own citation too.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Any

from ampleroom.editions import READINGS
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.editions.tables import Table
from ampleroom.errors import AmpleroomError, nearest
from ampleroom.explain.rule_page import own_tables
from ampleroom.explain.sections import cites_of, sections_in
from ampleroom.record import Record
from ampleroom.rules.all_rules import RULES
from ampleroom.rules.page import trade_words

BOX, DISPUTED = "box", "disputed"
"""The names of the two tables: what standard boxes hold, and every disputed point."""
TITLES = {BOX: "How many conductors a standard box holds", DISPUTED: "Disputed points and their defaults"}

WORDS_OF_TABLES: dict[str, tuple[str, ...]] = {
    BOX: ("boxes", "how many", "box table", "capacity", "standard box"),
    DISPUTED: ("disputed points", "readings", "reading", "dispute", "default"),
}
"""What people call the two tables, beside their titles. Common practice, no source."""

ASKED_SECTION = re.compile(r"(table\s+)?(\d{3}(?:\.\d+)?)((?:\s*\(?(?:[a-z]|\d+)\)?)*)")


class PageName(Record):
    """A page that can be asked for by its name."""

    name: str
    title: str


class PagesFound(Record):
    """Several pages that what was asked may mean."""

    asked: str
    pages: tuple[PageName, ...]

    @property
    def title(self) -> str:
        """The heading over the list of pages."""
        return f"Pages for '{self.asked}'"


class PageUnknown(AmpleroomError):
    """Nothing is known under what was asked; the nearest words are said."""

    def __init__(self, asked: str, near: Iterable[str]) -> None:
        self.nearest = list(near)
        sentence = f"there is no rule, disputed point, trade word or code section {asked!r}"
        if self.nearest:
            sentence += f"; the nearest {'is' if len(self.nearest) == 1 else 'are'} {' and '.join(self.nearest)}"
        else:
            sentence += "; try a word such as grounds, clamps or devices, or a section such as 314.16(B)(5)"
        super().__init__(sentence)


def title_of(name: str) -> str:
    """The heading of a page, by its name: of a rule its title, of a disputed point its question."""
    if name in RULES:
        return RULES[name].title
    return TITLES[name] if name in TITLES else READINGS[name].asks


def names() -> list[str]:
    """Every page there is, in the order of an answer."""
    return [*RULES, BOX, DISPUTED, *READINGS]


def look_up(asked: str) -> str | PagesFound:
    """The name of the one page that a name, a trade word or a code section means, or all it may mean.

    Raises ``PageUnknown`` with the nearest words.
    """
    plain = " ".join(asked.lower().replace("_", " ").split())
    if plain in names():
        return plain
    pages = by_section(plain) if any(letter.isdigit() for letter in plain) else []
    pages = pages or (by_word(plain.replace("-", " ")) if plain else [])
    if not pages:
        raise PageUnknown(asked, near(plain))
    if len(pages) == 1:
        return pages[0]
    return PagesFound(asked, tuple(PageName(name, title_of(name)) for name in pages))


# ---- by section ----------------------------------------------------------------------------------------------------


def by_section(plain: str) -> list[str]:
    """The pages of a section and of all that is under it, by any edition's number, such as ``table 314.16(a)``.

    Brackets and spaces may be left out: ``314.16b5``.
    """
    asked = ASKED_SECTION.fullmatch(re.sub(r"^(section|sec\.?|article|art\.?)\s+", "", plain))
    if asked is None:
        return section_index().get(plain, [])
    table, digits, letters = asked.groups()
    section = f"{'table ' if table else ''}{digits}" + "".join(
        f"({level})" for level in re.findall(r"[a-z]|\d+", letters)
    )
    starts = (f"{section}(", f"{section}.", f"table {section}(")
    pages = [pages for known, pages in section_index().items() if known == section or known.startswith(starts)]
    return in_order(name for some in pages for name in some)


@cache
def section_index() -> dict[str, list[str]]:
    """Every section that a table cites in any edition, in small letters, with the pages of the rules that read it."""
    index: dict[str, list[str]] = {}
    for rule in RULES.values():
        for table in indexed_tables(rule.name):
            for cite in cites_of(table):
                for section in sections_in(cite):
                    pages = index.setdefault(section.lower(), [])
                    if rule.name not in pages:
                        pages.append(rule.name)
    for cite in cites_of(STANDARD_BOXES):
        for section in sections_in(cite):
            index[section.lower()].append(BOX)
    return index


def indexed_tables(rule: str) -> tuple[Table[Any], ...]:
    """The tables by whose sections a rule is found. The allowances, which every count of box fill uses, lead to the
    first of those rules alone: that of conductors.
    """
    first = next(each.name for each in RULES.values() if CONDUCTOR_ROOM in each.reads)
    shared = (CONDUCTOR_ROOM,) if rule == first else ()
    return (*own_tables(RULES[rule]), *shared)


# ---- by word -------------------------------------------------------------------------------------------------------


def by_word(plain: str) -> list[str]:
    """The pages a word of the trade means: by the whole word or title, else by each of its words in their names."""
    asked = singular(plain)
    whole = [name for name in names() if asked in words_of(name)]
    if whole:
        titled = [name for name in whole if singular(title_of(name).lower()) == asked]
        if titled or len(whole) == 1:
            return titled or whole
        return [*whole, *(name for name in READINGS if name not in whole and asked in name.split("-"))]
    return [name for name in names() if set(asked.split()) <= loose_words(name)]


def trade_words_of(name: str) -> tuple[str, ...]:
    """What people call what a page is about: of a rule as its folder says; of a disputed point nothing."""
    return trade_words(RULES[name]) if name in RULES else WORDS_OF_TABLES.get(name, ())


@cache
def words_of(name: str) -> frozenset[str]:
    """The whole words a page is known by, each in the singular."""
    own = [*trade_words_of(name)]
    own += [title_of(name).lower(), name.replace("-", " ")]
    return frozenset(map(singular, own))


@cache
def loose_words(name: str) -> frozenset[str]:
    """Every word in the name, the title and the trade words of a page; of a disputed point, in its name alone."""
    text = singular(name.replace("-", " ")) if name in READINGS else " ".join(words_of(name))
    return frozenset(text.replace(",", " ").replace("?", " ").split())


def singular(words: str) -> str:
    """Each word without the ending of a plural, so that ``grounds`` and ``ground`` are one."""
    return " ".join(
        word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word
        for word in words.split()
    )


def near(plain: str) -> list[str]:
    """The names, trade words and sections most like what was asked."""
    if ASKED_SECTION.fullmatch(plain):
        sections = [re.sub(r"\([a-z]\)", lambda letter: letter[0].upper(), known) for known in section_index()]
        return nearest(plain, sections)
    words = dict.fromkeys(word for name in names() for word in trade_words_of(name))
    dashed = nearest(plain.replace(" ", "-"), names())
    return (dashed if "-" in plain else None) or nearest(plain, words) or dashed


def in_order(page_names: Iterable[str]) -> list[str]:
    """Pages once each, in the order of an answer."""
    pages = set(page_names)
    return [name for name in names() if name in pages]
