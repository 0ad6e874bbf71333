"""What a rule is, and the list of all of them by name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from types import ModuleType
from typing import Any, Literal, Protocol, TypeVar

from ampleroom.arithmetic import Line
from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table, cases_beside
from ampleroom.facts import Ends
from ampleroom.job.model import Item
from ampleroom.record import Record
from ampleroom.rules.space import Space
from ampleroom.worksheet import Finding, Reminder

Topic = Literal["fill", "room", "finding", "reminder"]
About = Literal["box", "raceway", "wireway", "circuit", "drop", "outlets", "load", "panel"]
"""What a rule judges: a box or conduit body, by its ``Space``; a raceway, by its ``FilledRaceway``; a wireway or
gutter, by its ``FilledWireway``; a circuit, by each ``Leg`` of it; the voltage drop of a circuit, by its
``CircuitDrop``; the protection it has by place, by its ``Outlets``; what a dwelling loads its service with, by what is
``Carried``; a panel, by its ``LaidOut``."""
Weigh = Callable[[Space, CodeBook], Iterator[Line]]
Judge = Callable[[Space, CodeBook], Iterator[Finding]]
Remind = Callable[[Space, CodeBook], Iterator[Reminder]]
EndsFor = Callable[[tuple[Item, ...], CodeBook], Ends]
F = TypeVar("F", bound=Callable[[Any, CodeBook], Iterator[Any]])


class Rule(Record):
    """One rule: its name, the tables it reads, and the function that is the rule. Its cases lie beside the function.

    What it says and why stand in the function's docstring, so they cannot drift from the code.
    """

    name: str
    title: str
    topic: Topic
    reads: tuple[Table[Any], ...]
    """The tables it reads."""
    readings: tuple[str, ...]
    function: Callable[[Any, CodeBook], Iterator[Any]]
    ends: Ends | EndsFor | None = None
    """Of a finding: which end of each unknown fact is worse, or how to tell that from the lines of a box."""
    of_bodies: bool = False
    """Whether it judges conduit bodies and nothing else."""
    of_contents: bool = False
    """Whether what it says follows from what a box holds and names nothing else: no run, no place, no line of the
    sheet. Boxes alike then share it. Where a rule does not say so it is asked again of every box: slower, never
    wrong."""
    drawn_as: str = ""
    """The role its lines have in a picture of what fills a subject: ``grounds``; empty where they are not drawn."""
    counts: tuple[type, ...] = ()
    """The kinds of line under a box it counts; a picture of the box lists them in the same role."""
    about: About = "box"

    def ends_for(self, items: tuple[Item, ...], book: CodeBook) -> Ends:
        """The worse ends for a box with these lines; a field that is not among them is tried at every value."""
        if self.ends is None:
            return {}
        return self.ends(items, book) if callable(self.ends) else self.ends

    @property
    def tables(self) -> tuple[str, ...]:
        """The names of the tables it reads."""
        return tuple([table.name for table in self.reads])

    @property
    def cases(self) -> list[dict[str, Any]]:
        """The published or reasoned cases in the rule's folder: a sheet each, with its source and what is expected."""
        return cases_beside(self.function.__code__.co_filename)

    @property
    def example(self) -> str:
        """The sheet that shows it: that of its first case."""
        sheet: str = self.cases[0]["sheet"]
        return sheet

    @property
    def says(self) -> list[str]:
        """What it says, in plain words: the paragraphs of its docstring before the one that says why."""
        return [paragraph for paragraph in self._paragraphs if not paragraph.startswith("Why:")]

    @property
    def why(self) -> str:
        """The reason the rule gives in its description, or nothing."""
        whys = [paragraph for paragraph in self._paragraphs if paragraph.startswith("Why:")]
        return whys[0].removeprefix("Why: ") if whys else ""

    @property
    def _paragraphs(self) -> list[str]:
        text = self.function.__doc__ or ""
        return [joined for paragraph in text.split("\n\n") if (joined := " ".join(paragraph.split()))]


_REGISTERED: dict[str, Rule] = {}


def rule(
    name: str,
    *,
    title: str,
    topic: Topic,
    tables: tuple[Table[Any], ...],
    readings: tuple[str, ...] = (),
    ends: Ends | EndsFor | None = None,
    of_bodies: bool = False,
    of_contents: bool = False,
    drawn_as: str = "",
    counts: tuple[type, ...] = (),
    about: About = "box",
) -> Callable[[F], F]:
    """Register a function as a rule. A name, once published, is never used for another rule. Raises ``ValueError`` for
    a name that is taken, and for a rule of box fill that does not say as what its lines are drawn.

    ``ends``: of a finding, which end of each unknown fact is worse; see ``ampleroom.facts``.
    """

    def register(function: F) -> F:
        if name in _REGISTERED:
            raise ValueError(f"two rules are named {name}")
        if topic == "fill" and not drawn_as:
            raise ValueError(f"{name} takes volume in a box and does not say as what it is drawn")
        _REGISTERED[name] = Rule(
            name, title, topic, tables, readings, function, ends, of_bodies, of_contents, drawn_as, counts, about
        )
        return function

    return register


def rule_in(module: ModuleType) -> Rule:
    """The one rule of a folder. Raises ``LookupError`` where a module registered none, or several."""
    rules = [rule for rule in _REGISTERED.values() if rule.function.__module__ == module.__name__]
    if len(rules) != 1:
        raise LookupError(f"{module.__name__} holds {len(rules)} rules; each has a folder of its own")
    return rules[0]


class Sourced(Protocol):
    """What every record of a table has: where it stands in the book, and how sure it is."""

    @property
    def cite(self) -> str:
        """The code section it stands in."""

    @property
    def confidence(self) -> str:
        """How sure the value is."""


def remind(
    rule: str, text: str, terms: Sourced, *, caution: bool = False, readings: tuple[str, ...] = (), cite: str = ""
) -> Reminder:
    """A reminder of a rule, by its name, in words; it stands where its table does, or at ``cite`` where it leans on
    two.
    """
    return Reminder(rule, text, cite or terms.cite, caution, terms.confidence, readings)
