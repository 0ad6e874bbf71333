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
    r"(?:on |behind )?(?:an? )?(?:(?P<a>\d+|\?)[ -]?(?:a|amps?)\b)(?: (?:breaker|circuit))?"
    rf"(?: (?:electric |ev |car |vehicle )?(?P<serves>{SERVED_WORDS}))?(?: (?:for )?(?P<label>[a-z][a-z ]*))?"
)
SERVES = re.compile(rf"(?:for an? |an? )?(?:electric |ev |car |vehicle )?(?P<serves>{SERVED_WORDS})")
LOAD = re.compile(
    r"(?P<load>[\d.,]+ ?(?:va|w|kva|kw))\b(?: (?P<long>continuous))?"
    rf"(?: (?P<serves>{SERVED_WORDS}))?(?: (?:for )?(?P<label>[a-z][a-z ]*))?"
)
FEEDER = re.compile(
    r"(?P<a>\d+)[ -]?(?:a|amps?)? (?:(?P<dwelling>dwelling|house|home|residential) )?"
    r"(?P<feeds>service|feeder|sub[ -]?panel|panel)"
    r"(?: (?P<of>(?:for|of|to) (?:a |the )?(?:whole )?(?:dwelling|house|home)))?"
)
"""A service or a feeder; ``200 A dwelling service``: it carries a whole dwelling."""
ASKED = re.compile(
    r"(?:what|which|how (?:big|large|thick))\b[^,\d]*?\b(?:wire|breaker|cable|conductor)s?(?: sizes?)?"
    r"(?: do i need| is needed| goes| can i (?:put|use))?(?: for| on| with)?(?: an?| the| my)? |"
    r"(?:wire|breaker|cable)(?: size)? for (?:an? |the |my )?"
)
"""What people write before the circuit itself: ``what size wire for a``."""
SAID = {
    "feeder": FEEDER,
    "raceway": re.compile(
        r"(?:in )?(?:(?P<size>\d[\d/-]*) ?(?:in|inch|\")? )?(?P<raceway>emt|imc|rmc|rigid|fmc|lfmc|ent|pvc(?:-[48]0)?)"
        r"(?: conduit)?(?: (?P<after>\d[\d/-]*))?|in (?:conduit|pipe)"
    ),
    "volts": re.compile(r"\d+ ?(?:v|volts)"),
    "continuous": re.compile(r"continuous"),
    "phases": re.compile(r"[13][ -]phase"),
    "terminals": re.compile(r"(?:60|75) ?°?c terminals|terminals (?:60|75) ?°?c?"),
    "motor": re.compile(r"motor [\d./-]+ ?hp|[\d./-]+ ?hp(?: motor)?"),
    "nameplate": re.compile(r"(?:mca|mocp) [\d.]+ ?a?"),
    "length": re.compile(r"[\d.]+ ?(?:ft|feet|foot|')(?: (?:run|long|away|one way))?"),
    "company": re.compile(r"(\d+) (?:current[ -]carrying(?: conductors)?|ccc)(?: .*)?"),
    "ambient": re.compile(r"(-?[\d.]+) ?°?([fc])(?: (?:ambient|attic|around it|hot))?"),
    "metal": re.compile(r"(?:in )?(?:aluminum|al|copper|cu)(?: wires?)?"),
    "edition": re.compile(r"edition \d{4}"),
    "together": re.compile(
        r"in (?:one|a|the same) (?:(?P<sealed>sealed|foamed|caulked) )?hole|bundled|together|spaced"
    ),
    "insulation": re.compile(r"in insulation"),
    "electrode": re.compile(rf"electrode (?P<to>(?:{'|'.join(ELECTRODES)}) #?(?:[\d/]+|\?)(?: aluminum)?)"),
}
"""What a part may say of a circuit, by a name of ours."""
ONLY_A_CIRCUIT = (
    "amperes",
    "load",
    "company",
    "ambient",
    "together",
    "nameplate",
    "motor",
    "terminals",
    "electrode",
    "feeder",
    "asked",
)
"""Parts that no question about a box or a raceway has."""
PLACE_AFTER = re.compile(rf"\s+({SAID['together'].pattern}|{SAID['insulation'].pattern})$")
UNCOUNTED = re.compile(r"#(?:[\d/]+|\?) [a-z]+(?:-2)?")
"""Wires without their number: ``#12 thhn``."""
MOST_OF_CABLE = 50
"""Amperes of the largest breaker that cable is taken for where no kind is written: nonmetallic cable thicker than #6 is
hardly ever sold. Common practice, no source."""
INSULATION_OF = {"copper": "thhn", "aluminum": "xhhw-2"}
"""What single wires have where nothing is written. Common practice, no source."""
KIND_OF = {"rigid": "rmc", "pvc": "pvc-40"}
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
    for number, piece in enumerate(pieces):
        text = " ".join(piece.lower().split())
        if part_of(text) is None:  # the question's own mark, and not one for what nobody knows
            text = text.rstrip("? ")
        if not number and (match := ASKED.match(text)):
            parts.append(Part("asked", match[0], match))
            text = text[match.end() :]
        read = part_of(text)
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
    if is_wires(text):
        return [Part("wires", text)]
    ends = [at for at, letter in enumerate(text) if letter == " "]
    for end in reversed(ends):
        first = whole_part(text[:end])
        if first is None and is_wires(text[:end]):
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


def is_wires(text: str) -> bool:
    """Whether a part is a cable or wires; of wires the number may be left out."""
    return run_of(text) is not None or bool(UNCOUNTED.fullmatch(text) and run_of(f"2 x {text}"))


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

    def texts(self, kind: str) -> list[str]:
        """The parts of a kind as they were typed."""
        return [part.text for part in self.all(kind)]

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
    def material(self) -> str:
        """``aluminum`` where that is written, else ``copper``."""
        return "aluminum" if re.search(r"\bal(?:uminum)?\b", self.text("metal")) else "copper"

    @property
    def insulation(self) -> str:
        """What single wires are taken to have; those of a service are mostly outdoors."""
        return INSULATION_OF["aluminum" if self.is_service else self.material]

    @property
    def is_service(self) -> bool:
        """Whether it is a service; a feeder ends in a panel."""
        return self.group("feeds") == "service"

    @property
    def is_of_dwelling(self) -> bool:
        """Whether a service or feeder is said to carry a whole dwelling."""
        return bool(self.group("dwelling") or self.group("of"))

    @property
    def raceway(self) -> str:
        """``in emt 3/4``, ``in emt ?``; empty where none is written, or not of which kind. Of cable in company too: a
        line beside it stands for the others, and they lie along one route.
        """
        kind = self.group("raceway")
        is_cable = any(run is not None and run.cable is not None for run in map(run_of, self.texts("wires")))
        if not kind or (self.one("company") and is_cable):
            return ""
        return f"in {KIND_OF.get(kind, kind)} {self.group('size') or self.group('after') or '?'}"

    @property
    def insulated(self) -> int:
        """How many insulated conductors it has, where nothing is written of them."""
        is_three_phase = self.text("phases").startswith("3")
        return 3 if self.serves in WITH_NEUTRAL or self.one("feeder") or is_three_phase else 2

    @property
    def is_of_wires(self) -> bool:
        """Whether single wires are meant where nothing is written of cable or wires."""
        if self.all("wires") or self.one("cable kind"):
            return False
        amperes = self.group("a") if self.group("a").isdigit() else "0"
        if self.serves == "charger" and amperes in CHARGERS:
            amperes = str(int(amperes) * 5 // 4)
        is_large = int(amperes) > MOST_OF_CABLE
        is_feeder_or_three_phase = self.insulated == 3 and not self.serves
        return is_large or bool(self.raceway) or self.material == "aluminum" or is_feeder_or_three_phase

    @property
    def assumes(self) -> tuple[str, ...]:
        """What is taken as so of its wires, for the end of a sentence that begins with ``Counted``."""
        taken = []
        if self.is_of_wires:
            taken.append(f"as single wires of {self.insulation}; for a cable write its kind, such as nm-b")
        if any(map(UNCOUNTED.fullmatch, self.texts("wires"))):
            taken.append(f"as {self.insulated} insulated wires; for more write how many, such as 3 x #12 thhn")
        if self.is_service and not self.is_of_dwelling:
            taken.append("as a service of more than one dwelling; for one, write: dwelling service")
        if self.is_service and not self.all("electrode"):
            taken.append("with its electrode a water pipe; to nothing but rods a thinner conductor may do")
        return tuple(taken)

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
        far = (
            FAR
            if self.serves or self.one("motor") or self.all("nameplate") or self.is_of_one_thing or self.one("feeder")
            else "?"
        )
        run = self.run_line(far)
        place = "" if far != FAR else f"equipment {FAR}"
        if self.one("feeder") and not self.is_service:
            place = f"panel {FAR} 120/240 V"
        company = self.company_line(far, run)
        if company and self.raceway:
            run, company = run.replace(f" {self.raceway}", f", {company} {self.raceway}"), ""
        lines = [self.text("edition"), f"panel {PANEL} 120/240 V", place, self.route_line(), circuit, run, company]
        return "\n".join(line for line in lines if line) + "\n"

    def circuit_line(self) -> str:
        """The line of the circuit; a breaker that is not written is ``?``."""
        amperes, load = self.group("a") or "?", self.group("load")
        is_usual = self.one("feeder") or (self.serves and self.serves not in ON_120_VOLTS)
        usual = f"{USUAL_VOLTS} V" if is_usual else ""
        serves = "dwelling" if self.is_of_dwelling else self.serves
        label = self.group("label") or ("" if self.is_of_dwelling else self.group("feeds"))
        volts = self.text("volts") or usual
        if self.serves == "charger" and not load and amperes in CHARGERS:
            amperes, load = "?", f"{int(amperes) * int(re.findall(r'[0-9]+', volts)[0])} VA"
        terminals = re.search(r"60|75", self.text("terminals"))
        motor = re.search(r"[\d./-]+", self.text("motor"))
        electrodes = ", ".join(part.match["to"] for part in self.all("electrode") if part.match)
        electrodes = electrodes or ("water #?" if self.is_service else "")
        words = [
            f"circuit {CIRCUIT}",
            f"{amperes} A",
            spaced_unit(volts),
            self.text("phases").replace(" ", "-"),
            load,
            "continuous" if self.text("continuous") or self.group("long") else "",
            f"serves {serves}" if serves else "",
            f"motor {motor[0]} hp" if motor else "",
            *(f"{part.text.rstrip(' a')} A" for part in self.all("nameplate")),
            f"terminals {terminals[0]} C" if terminals else "",
            f"electrode {electrodes}" if electrodes else "",
            f"on {PANEL}" if self.one("feeder") else "",
            f"for {label}" if label else "",
        ]
        return " ".join(word for word in words if word)

    def run_line(self, far: str) -> str:
        """The line of its wires; a cable of unknown size where only its kind is written, or nothing."""
        typed = self.texts("wires")
        wires = ", ".join(f"{self.insulated} x {text}" if UNCOUNTED.fullmatch(text) else text for text in typed)
        if self.is_of_wires:
            has_path = self.raceway.startswith(("in emt", "in imc", "in rmc"))
            ground = "" if self.is_service or has_path else ", ground #?"
            wires = f"{self.insulated} x #? {self.insulation}{ground}"
        elif not wires:
            wires = f"?/{self.insulated} {self.text('cable kind')}".rstrip()
        metal = "aluminum" if self.material == "aluminum" else ""
        route = f"by {ROUTE}" if self.route_line() else "" if self.raceway else "spaced"
        insulation = "in insulation" if self.all("insulation") else ""
        is_cable = run_of(wires) is None or run_of(wires).cable is not None  # type: ignore[union-attr]
        word = "run" if is_cable else "wires"
        length = re.match(r"[\d.]+", self.text("length"))
        feet = f"{length[0]} ft" if length else ""
        way = (self.raceway, insulation, f"circuit {CIRCUIT}", route)
        return " ".join(part for part in (word, f"{PANEL} > {far}", wires, metal, feet, *way) if part)

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
        others = int(company.match[1]) - own_carrying(run)
        if others < 0:
            raise AmpleroomError(f"{company.text}: its own wires are {own_carrying(run)}")
        if not others:
            return ""
        (read,) = read_line(run)
        size = read.wires[0].size if read.wires else read.cable.size
        if self.raceway:  # in one raceway they are one line: no line tells that two of unnamed ends lie in the same
            return f"{others} x #{size} {read.wires[0].insulation}"
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
