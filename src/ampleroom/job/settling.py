"""What a line leaves to the rest of the sheet: the kind of a box, the panel of a home run, the usual cable."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from ampleroom.errors import nearest
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.model import BOX_END, PANEL_END, Box, Job, Panel, Run, RunRaceway, Stop
from ampleroom.job.one_line import read_one_line, read_plainly
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Unreadable, Words
from ampleroom.record import replace
from ampleroom.where import Where


class BoxSettler:
    """What the line of a box leaves to the rest of the sheet: whether a word after the name is a kind, or where the box
    is.

    ``lines``: those of the sheet; ``kinds``: the names of its kinds in lower case; ``no_at``: the numbers of lines
    whose place is written without ``at``.
    """

    def __init__(self, lines: Sequence[str], kinds: set[str], no_at: set[int]) -> None:
        self.lines = lines
        self.kinds = kinds
        self.no_at = no_at

    def settled(self, box: Box) -> Box:
        """The box with its kind and place apart: a word that is the name of a kind is one, any other begins the
        place.
        """
        if box.at.line in self.no_at:
            first, _, rest = box.description.partition(" ")
            if first.casefold() in self.kinds:
                return replace(box, kind=first, description=rest)
        elif box.kind and box.kind is not UNKNOWN and box.kind.casefold() not in self.kinds:
            return self.without_kind(box)
        return box

    def without_kind(self, box: Box) -> Box:
        """``box A handy``, ``box A kitchen``: one word after the name that is no kind of the job's."""
        from ampleroom.job import trade_words

        word = str(box.kind).strip("()")
        if nearest(word, self.kinds):
            return box  # a kind, mistyped
        raw = self.lines[box.at.line - 1]
        token = [trade_words.Token(word, 2, 2)]
        try:
            plain = next(trade_words.box_alone(token), None)
            if plain is not None:
                read = [
                    read_plainly(Words(box.at.line, [t.word for t in piece], raw, True, [t[1:] for t in piece]), True)
                    for piece in plain
                ]
                return replace(box, kind="", items=(*(item for _, item in read), *box.items))
        except Unreadable:
            return box
        if box.description or not trade_words.place_begins(token, 0):
            return box
        return replace(box, kind="", description=word)


class RunSettler:
    """What a run leaves to the rest of the sheet: the panel of a home run, the usual cable, a raceway with no name.

    ``raceways``: the names of the job's raceways in lower case; ``usual``: the kind of cable meant where none is
    written; ``fault`` is told where the sheet leaves open which panel is meant.
    """

    def __init__(
        self, panels: Iterable[Panel], raceways: set[str], usual: str, fault: Callable[[Where, str, str], None]
    ) -> None:
        self.panels = tuple(panels)
        self.raceways = raceways
        self.usual = usual
        self.fault = fault

    def settled(self, run: Run) -> Run:
        """The run with what the rest of the sheet says of it."""
        changes: dict[str, Any] = {}
        if run.kind_assumed and self.usual and run.cable is not None:
            changes |= {"cable": run.cable._replace(kind=self.usual), "kind_assumed": False}
        if run.raceways:
            raceways = tuple(map(self.raceway, run.raceways))
            if raceways != run.raceways:
                changes["raceways"] = raceways
        if any(stop.name == PANEL_END for stop in run.stops):
            changes["stops"] = tuple(
                [self.panel_end(run, stop) if stop.name == PANEL_END else stop for stop in run.stops]
            )
        return replace(run, **changes) if changes else run

    def raceway(self, raceway: RunRaceway) -> RunRaceway:
        """``in emt``, where no raceway has that name: one of that kind, of a size nobody wrote."""
        kind = raceway.name.lower()
        if kind in RACEWAY_KINDS and kind not in self.raceways:
            return RunRaceway("", kind, UNKNOWN, raceway.at)
        return raceway

    def panel_end(self, run: Run, stop: Stop) -> Stop:
        """The job's panel; a far end nobody found where there is none; asked back where there are several."""
        at = stop.at
        if len(self.panels) == 1:
            return Stop(self.panels[0].name, at=at)
        if self.panels:
            other = next((end.name for end in run.stops if end.name != PANEL_END), "?")
            names = " or ".join(f"run {panel.name} > {other}" for panel in self.panels[:4])
            self.fault(at, "which panel does this home run go to?", f"write {names}")
        return Stop(UNKNOWN, at=at)


def read_run_line(text: str, job: Job | None = None) -> Run:
    """A ``run`` or ``wires`` line by itself, for a job whose usual cable and panel it may mean; ``Unreadable`` if it is
    none.
    """
    line = read_one_line(1, text, True)
    if line is None or not isinstance(line.record, Run) or line.record.stops[0].name == BOX_END:
        raise Unreadable(0, 0, "that is not a run", "write one such as: run P > J1 12/2 nm-b")
    troubles: list[Unreadable] = []

    def fault(where: Where, message: str, hint: str) -> None:
        troubles.append(Unreadable(where.first, where.last, message, hint))

    panels, usual = (job.panels, job.usual_cable) if job else ((), "")
    raceways = {raceway.name.casefold() for raceway in job.raceways} if job else set[str]()
    run = RunSettler(panels, raceways, usual, fault).settled(line.record)
    if troubles:
        raise troubles[0]
    return run


__all__ = ["BoxSettler", "RunSettler", "read_run_line"]
