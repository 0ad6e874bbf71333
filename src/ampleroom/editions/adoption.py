"""Which edition a place had adopted, by a dated snapshot. It helps to ask the authority; it never decides."""

from __future__ import annotations

from datetime import date

from ampleroom.editions.tables import listed
from ampleroom.errors import EditionUnknown, nearest
from ampleroom.record import Record

VERIFY = "Verify with your authority."
CURRENT = "snapshot"
"""The status of a row that was in force by the newest list that was read."""


class AdoptionRow(Record):
    """One line of a list. ``edition`` None: nothing is adopted statewide. ``since`` None: the list names no date."""

    edition: int | None
    since: date | None
    status: str
    source: str
    as_of: str
    note: str = ""

    @property
    def text(self) -> str:
        """``2020 edition since 2022-07-01 (snapshot; a trade educator's state list, undated page)``."""
        head = f"{self.edition} edition" if self.edition else "no edition statewide"
        head += f" since {self.since}" if self.since else ""
        note = f": {self.note}" if self.note else ""
        return f"{head} ({self.status}; {self.source}, {self.as_of}){note}"


class Adoption(Record):
    """All that is known of one place, the newest first."""

    place: str
    rows: tuple[AdoptionRow, ...]

    @property
    def edition(self) -> int | None:
        """The one edition in force by the newest list; None where there is none, or where it is not certain."""
        current = {row.edition for row in self.rows if row.status == CURRENT}
        return current.pop() if len(current) == 1 else None

    @property
    def text(self) -> str:
        """The row that is offered, with its age and the standing advice."""
        row = next(row for row in self.rows if row.status == CURRENT)
        return f"{self.place}: {row.text.rstrip('.')}. {VERIFY}"

    @property
    def known(self) -> str:
        """All rows in words; where the edition is not certain it says so first."""
        if self.edition is not None:
            return self.text
        rows = "; ".join(row.text for row in self.rows)
        return f"Which edition is in force in {self.place} is not certain. Known: {rows}. {VERIFY}"


def adoptions() -> tuple[Adoption, ...]:
    """Every place of the snapshot, by name."""
    return tuple(
        Adoption(
            place["name"],
            tuple(
                AdoptionRow(
                    row.get("edition"), row.get("from"), row["status"], row["source"], row["as_of"], row.get("note", "")
                )
                for row in place["rows"]
            ),
        )
        for place in listed("adoption")["place"]
    )


def adoption_of(name: str) -> Adoption:
    """What is known of a place, by its name or the two letters of its state; ``EditionUnknown`` with the nearest
    names.
    """
    wanted = " ".join(name.split()).casefold()
    short = {place["short"].casefold(): place["name"] for place in listed("adoption")["place"] if place["short"]}
    by_name = {adoption.place.casefold(): adoption for adoption in adoptions()}
    adoption = by_name.get(short.get(wanted, wanted).casefold())
    if adoption is not None:
        return adoption
    close = [each.place for each in by_name.values() if wanted and wanted in each.place.casefold()]
    close = close or nearest(name, [each.place for each in by_name.values()])
    hint = f"The nearest: {'; '.join(close)}. " if close else ""
    raise EditionUnknown(
        f"nothing is known here of what {name!r} has adopted. {hint}"
        f"The list has {'; '.join(each.place for each in by_name.values())}. "
        "Ask your authority which edition is in force, and give its year"
    )


def adopted_edition(name: str) -> tuple[int, Adoption]:
    """The edition a place had adopted, and all that is known of it. Where it is not certain nothing is picked:
    ``EditionUnknown``, with all that is known."""
    adoption = adoption_of(name)
    if adoption.edition is None:
        sentence = adoption.known.removesuffix(VERIFY)
        raise EditionUnknown(
            f"{sentence[0].lower()}{sentence[1:]}Ask your authority which edition is in force, and give its year"
        )
    return adoption.edition, adoption
