"""A question about a circuit, typed as parts with commas between them, or in a row where no comma is needed.

    50 A range, 42 ft, nm-b
    60 A hot tub 80 ft
    12 x 12/2 nm-b in one hole
    3 x #10 thhn, 9 current-carrying, 110 F

The parts become the lines of a sheet, and the sheet is checked. A wire or a breaker that is left out is found.
"""

from __future__ import annotations

import re

from ampleroom.errors import AmpleroomError
from ampleroom.job.carrying import carrying_of
from ampleroom.job.lines.circuits import ELECTRODES, SERVED
from ampleroom.job.lines.runs import CABLE_KINDS
from ampleroom.job.model import Run
from ampleroom.job.one_line import read_line
from ampleroom.job.reader import read_sheet
from ampleroom.job.sheet import Sheet
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Unreadable
from ampleroom.record import Record

CIRCUIT = "1"
"""The name of the circuit that is asked about."""
PANEL, FAR, ROUTE = "P", "A", "way"
"""The places and the route of its wires."""
EXAMPLES = ("50 A range, 42 ft, nm-b", "12 x 12/2 nm-b in one hole", "3 x #10 thhn, 9 current-carrying, 110 F")
SERVED_WORDS = "|".join(sorted((word for word in SERVED if word != "dwelling"), key=len, reverse=True))
AMPERES = re.compile(
    r"(?:(?P<a>\d+|\?)[ -]?(?:a|amps?)\b)(?: (?:breaker|circuit))?"
    rf"(?: (?:electric |ev |car |vehicle )?(?P<serves>{SERVED_WORDS}))?(?: (?:for )?(?P<label>[a-z][a-z ]*))?"
)
SERVES = re.compile(rf"(?:for an? |an? )?(?:electric |ev |car |vehicle )?(?P<serves>{SERVED_WORDS})")
LOAD = re.compile(
    r"(?P<load>[\d.,]+ ?(?:va|w|kva|kw))\b(?: (?P<long>continuous))?"
    rf"(?: (?P<serves>{SERVED_WORDS}))?(?: (?:for )?(?P<label>[a-z][a-z ]*))?"
)
SAID = {
    "volts": re.compile(r"\d+ ?(?:v|volts)"),
    "continuous": re.compile(r"continuous"),
    "phases": re.compile(r"[13][ -]phase"),
    "terminals": re.compile(r"(?:60|75) ?°?c terminals|terminals (?:60|75) ?°?c?"),
    "motor": re.compile(r"motor [\d./-]+ ?hp|[\d./-]+ ?hp(?: motor)?"),
    "nameplate": re.compile(r"(?:mca|mocp) [\d.]+ ?a?"),
    "length": re.compile(r"[\d.]+ ?(?:ft|feet|foot|')"),
    "company": re.compile(r"(\d+) (?:current[ -]carrying(?: conductors)?|ccc)(?: .*)?"),
    "ambient": re.compile(r"(-?[\d.]+) ?°?([fc])(?: (?:ambient|attic|around it|hot))?"),
    "metal": re.compile(r"aluminum|al|copper|cu"),
    "edition": re.compile(r"edition \d{4}"),
    "together": re.compile(
        r"in (?:one|a|the same) (?:(?P<sealed>sealed|foamed|caulked) )?hole|bundled|together|spaced"
    ),
    "insulation": re.compile(r"in insulation"),
    "electrode": re.compile(rf"electrode (?P<to>(?:{'|'.join(ELECTRODES)}) #?(?:[\d/]+|\?)(?: aluminum)?)"),
}
"""What a part may say of a circuit, by a name of ours."""
ONLY_A_CIRCUIT = ("amperes", "load", "company", "ambient", "together", "nameplate", "motor", "terminals", "electrode")
"""Parts that no question about a box or a raceway has."""
PLACE_AFTER = re.compile(rf"\s+({SAID['together'].pattern}|{SAID['insulation'].pattern})$")
RACEWAY_AFTER = re.compile(r"\s+in (?:emt|imc|rmc|fmc|lfmc|ent|pvc\S*|conduit|pipe)(?: [\d/-]+)?$")
MOST_FOR_MANY = 20
"""Amperes of a breaker: several receptacles or lights hardly ever stand behind more. Common practice, no source."""
USUAL_VOLTS = 240
"""Of what is served by name; a range, a dryer, a heater. Common practice, no source."""
ON_120_VOLTS = ("dishwasher", "microwave", "sump pump")
"""What is served by name at the usual volts of a circuit. Common practice, no source."""
CHARGERS = ("16", "24", "32", "48")
"""Amperes that name a vehicle charger by what it draws, as no breaker is of so many. Common practice, no source."""
WITH_NEUTRAL = ("range", "dryer")
"""What is wired with three insulated conductors. Common practice, no source."""


class Part(Record):
    """One part of a question about a circuit."""

    kind: str
    text: str
    match: re.Match[str] | None = None


def parts_of(pieces: list[str]) -> list[Part] | None:
    """The parts of a question, if it is about a circuit; None where a part says nothing of one, or no part says that a
    circuit is meant.
    """
    parts: list[Part] = []
    for piece in pieces:
        read = part_of(" ".join(piece.lower().split()))
        if read is None:
            return None
        parts += read
    return parts if any(part.kind in ONLY_A_CIRCUIT for part in parts) else None


def part_of(text: str) -> list[Part] | None:
    """One piece as its parts, which may stand in a row without commas: ``60 A hot tub 80 ft``, ``12 x 12/2 nm-b in one
    hole``. None for what is no part of a circuit.
    """
    if (part := whole_part(text)) is not None:
        return [part]
    if match := PLACE_AFTER.search(text):
        wires, place = part_of(text[: match.start()]), part_of(match[1])
        return [*wires, *place] if wires and place else None
    wires_text = RACEWAY_AFTER.sub("", text)
    if run_of(wires_text) is not None:
        return [Part("wires", wires_text)]
    ends = [at for at, letter in enumerate(text) if letter == " "]
    for end in reversed(ends):
        first = whole_part(text[:end])
        if first is None and run_of(text[:end]) is not None:
            first = Part("wires", text[:end])
        if first is not None and (rest := part_of(text[end + 1 :])) is not None:
            return [first, *rest]
    return None


def whole_part(text: str) -> Part | None:
    """A text that is one part; what it is for may not be a word that says something else of a circuit."""
    for kind, pattern in (("serves", SERVES), *SAID.items(), ("amperes", AMPERES), ("load", LOAD)):
        if match := pattern.fullmatch(text):
            label = match.groupdict().get("label")
            if not label or all(part_of(word) is None for word in label.split()):
                return Part(kind, text, match)
    return Part("cable kind", CABLE_KINDS[text]) if text in CABLE_KINDS else None


def run_of(text: str) -> Run | None:
    """What a part says that lies between two places; None for what is no cable and no wires."""
    try:
        (run,) = read_line(f"run {PANEL} > {FAR} {text}")
    except (Unreadable, ValueError):
        return None
    return run if isinstance(run, Run) and not run.through and not run.raceways else None


class CircuitQuestion:
    """The parts of a question gathered into the lines of a sheet."""

    def __init__(self, parts: list[Part]) -> None:
        self.parts = parts

    def all(self, kind: str) -> list[Part]:
        """The parts of a kind."""
        return [part for part in self.parts if part.kind == kind]

    def one(self, kind: str) -> Part | None:
        """The one part of a kind. Raises ``AmpleroomError`` where there are several."""
        several = self.all(kind)
        if len(several) > 1:
            raise AmpleroomError(f"{several[0].text!r} and {several[1].text!r}: keep one of them")
        return several[0] if several else None

    def group(self, name: str) -> str:
        """What a named group of any part matched; empty for none."""
        found = [part.match.group(name) for part in self.parts if part.match and name in part.match.groupdict()]
        return next((text for text in found if text), "")

    @property
    def serves(self) -> str:
        """What it serves, of what the code has a rule for; empty for anything else."""
        return self.group("serves")

    @property
    def is_of_one_thing(self) -> bool:
        """Whether a name and its breaker say that it feeds one thing: ``60 A hot tub``."""
        amperes = self.group("a")
        return bool(self.group("label")) and amperes.isdigit() and int(amperes) > MOST_FOR_MANY

    def text(self, kind: str) -> str:
        """A part of a kind as it was typed; empty for none."""
        part = self.one(kind)
        return part.text if part else ""

    def sheet(self) -> str:
        """The question as a sheet. Raises ``AmpleroomError`` where it says nothing of wires, a breaker or a load."""
        circuit = self.circuit_line()
        far = FAR if self.serves or self.one("motor") or self.all("nameplate") or self.is_of_one_thing else "?"
        run = self.run_line(far)
        place = f"equipment {FAR}" if far == FAR else ""
        lines = [self.text("edition"), f"panel {PANEL} 120/240 V", place, self.route_line(), circuit, run]
        company = self.company_line(far, run)
        return "\n".join(line for line in (*lines, company) if line) + "\n"

    def circuit_line(self) -> str:
        """The line of the circuit; a breaker that is not written is ``?``."""
        amperes, load = self.group("a") or "?", self.group("load")
        usual = "" if not self.serves or self.serves in ON_120_VOLTS else f"{USUAL_VOLTS} V"
        volts = self.text("volts") or usual
        if self.serves == "charger" and not load and amperes in CHARGERS:
            amperes, load = "?", f"{int(amperes) * int(re.findall(r'[0-9]+', volts)[0])} VA"
        terminals = re.search(r"60|75", self.text("terminals"))
        motor = re.search(r"[\d./-]+", self.text("motor"))
        electrodes = ", ".join(part.match["to"] for part in self.all("electrode") if part.match)
        words = [
            f"circuit {CIRCUIT}",
            f"{amperes} A",
            spaced_unit(volts),
            self.text("phases").replace(" ", "-"),
            load,
            "continuous" if self.text("continuous") or self.group("long") else "",
            f"serves {self.serves}" if self.serves else "",
            f"motor {motor[0]} hp" if motor else "",
            *(f"{part.text.rstrip(' a')} A" for part in self.all("nameplate")),
            f"terminals {terminals[0]} C" if terminals else "",
            f"electrode {electrodes}" if electrodes else "",
            f"for {self.group('label')}" if self.group("label") else "",
        ]
        return " ".join(word for word in words if word)

    def run_line(self, far: str) -> str:
        """The line of its wires; a cable of unknown size where only its kind is written, or nothing."""
        wires = ", ".join(part.text for part in self.all("wires"))
        if not wires:
            insulated = 3 if self.serves in WITH_NEUTRAL else 2
            wires = f"?/{insulated} {self.text('cable kind')}".rstrip()
        metal = "aluminum" if self.text("metal").startswith("al") else ""
        route = f"by {ROUTE}" if self.route_line() else "spaced"
        insulation = "in insulation" if self.all("insulation") else ""
        is_cable = run_of(wires) is None or run_of(wires).cable is not None  # type: ignore[union-attr]
        word = "run" if is_cable else "wires"
        parts = (word, f"{PANEL} > {far}", wires, metal, self.text("length"), insulation, f"circuit {CIRCUIT}", route)
        return " ".join(part for part in parts if part)

    def route_line(self) -> str:
        """The line of the route its wires go along, where anything is said of their company or heat."""
        ambient, together = self.one("ambient"), self.one("together")
        company = self.one("company")
        if not (ambient or together or company):
            return ""
        heat = f"ambient {ambient.match[1]} {ambient.match[2].upper()}" if ambient and ambient.match else ""
        how = ""
        if together is not None:
            how = "sealed" if "hole" in together.text else "spaced" if together.text == "spaced" else "bundled"
        elif company is not None:
            how = "bundled"
        return " ".join(word for word in (f"route {ROUTE}", heat, how) if word)

    def company_line(self, far: str, run: str) -> str:
        """The line of the conductors beside its own, where so many in all are written."""
        company = self.one("company")
        if company is None or company.match is None:
            return ""
        (read,) = read_line(run)
        own = own_carrying(run)
        others = int(company.match[1]) - own
        if others < 0:
            raise AmpleroomError(f"{company.text}: its own wires are {own}")
        if not others:
            return ""
        size = read.wires[0].size if read.wires else read.cable.size
        return f"wires {PANEL} > {far} {others} x #{size} by {ROUTE} for the others"


def own_carrying(run: str) -> int:
    """How many of the conductors of a run's line carry current."""
    job = read_sheet(Sheet(f"panel {PANEL} 120/240 V\nequipment {FAR}\nroute {ROUTE}\ncircuit {CIRCUIT}\n{run}\n", ""))
    counted = carrying_of(job.runs[0], job.graph)
    times = job.runs[0].count
    if counted is None or times is UNKNOWN:
        raise AmpleroomError("write how many wires there are, such as: 3 x #10 thhn")
    return counted * times


def spaced_unit(text: str) -> str:
    """``240v`` as ``240 V``."""
    digits = re.match(r"\d+", text)
    return f"{digits[0]} V" if digits else ""


__all__ = ["CIRCUIT", "EXAMPLES", "CircuitQuestion", "parts_of"]
