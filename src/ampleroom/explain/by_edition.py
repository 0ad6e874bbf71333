"""How each rule differs from edition to edition, in sentences made from the tables.

A topic of a rule is a function from a code book to a sentence, with the tables the sentence tells of. It is asked for
every edition on offer, and editions that say the same are told together: ``2008-2017: ...``. So no sentence can hold a
number that its table does not have. Numbers stay out of the functions; what they print comes from the book.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from decimal import Decimal
from itertools import groupby
from typing import Any

from ampleroom.editions import NEWEST_COMPARED, OFFERED, CodeBook
from ampleroom.job.trade import size_text
from ampleroom.quantities import count, inches, number, plural
from ampleroom.record import Record

Tell = Callable[[CodeBook], str]
MEMORY = "from memory"
NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
PARTS = {Decimal("0.25"): "a quarter", Decimal("0.5"): "half", Decimal("0.75"): "three quarters", Decimal(1): "all"}


class Period(Record):
    """A run of editions in which a rule says the same."""

    first: int
    last: int
    """The years of the first and the last edition that say it."""
    text: str
    """What they say, in sentences."""
    cites: tuple[str, ...]
    """Where they say it; several where the section was renumbered on the way."""
    from_memory: tuple[int, ...]
    """The editions for which that rests on memory."""

    @property
    def label(self) -> str:
        """``2008-2017``, ``From 2020``, ``All editions``."""
        return span(self.first, self.last)

    @property
    def mark(self) -> str:
        """What to print behind the text where it rests on memory: `` (2017 from memory)``."""
        compared = {year for year in COMPARED if self.first <= year <= self.last}
        if not self.from_memory:
            return ""
        if compared <= set(self.from_memory):
            return f" ({MEMORY})"
        return f" ({', '.join(map(str, self.from_memory))} {MEMORY})"


class Sure(Record):
    """How sure a section's numbers are in a run of editions."""

    table: str
    cite: str
    first: int
    last: int
    confidence: str

    @property
    def label(self) -> str:
        return span(self.first, self.last)


class Topic(Record):
    """One thing that a rule says: the tables it rests on, and the sentence of an edition."""

    tables: tuple[str, ...]
    tell: Tell


COMPARED = tuple(year for year, offered in OFFERED.items() if not offered.provisional)
"""The editions that were compared, oldest first."""
TOPICS: dict[str, list[Topic]] = {}
"""The topics of each rule, by its name."""


def tells(rule: str, *tables: str) -> Callable[[Tell], Tell]:
    """Have a function say one sentence of a rule, from these tables."""

    def add(tell: Tell) -> Tell:
        TOPICS.setdefault(rule, []).append(Topic(tables, tell))
        return tell

    return add


def span(first: int, last: int) -> str:
    """A run of editions as one says it: ``All editions``, ``From 2020``, ``2008``, ``2008-2017``."""
    if first == last:
        return str(first)
    if last == max(OFFERED):
        return "All editions" if first == min(OFFERED) else f"From {first}"
    return f"{first}-{last}"


def periods(rule: str) -> list[Period]:
    """What a rule says from edition to edition: topics that never changed first, the others oldest edition first."""
    runs = [run for topic in TOPICS.get(rule, ()) for run in topic_periods(topic)]
    return [run for run in runs if is_whole(run)] + [run for run in runs if not is_whole(run)]


def is_whole(run: Period) -> bool:
    return (run.first, run.last) == (min(OFFERED), max(OFFERED))


def topic_periods(topic: Topic) -> list[Period]:
    """The periods of one topic."""
    found = []
    for text, years in runs_of(topic.tell):
        books = [CodeBook(year) for year in years]
        cites = dict.fromkeys(book.block(table)["cite"] for book in books for table in topic.tables)
        memory = [
            book.year for book in books if any(book.block(table)["confidence"] == MEMORY for table in topic.tables)
        ]
        found.append(Period(years[0], years[-1], text, tuple(cites), tuple(memory)))
    return found


def runs_of(value: Callable[[CodeBook], str]) -> list[tuple[str, list[int]]]:
    """What a function gives for each edition, equal neighbors together."""
    by_year = [(value(CodeBook(year)), year) for year in OFFERED]
    return [(text, [year for _, year in group]) for text, group in groupby(by_year, key=lambda pair: pair[0])]


def how_sure(tables: Iterable[str]) -> list[Sure]:
    """How sure the numbers of tables are, by section and edition."""
    found = []
    for table in tables:

        def cite_and_confidence(book: CodeBook, table: str = table) -> str:
            return f"{book.block(table)['cite']}\t{book.block(table)['confidence']}"

        for told, years in runs_of(cite_and_confidence):
            cite, _, confidence = told.partition("\t")
            found.append(Sure(table, cite, years[0], years[-1], confidence))
    return found


def provisional_note() -> str:
    """What the editions that were not compared run on; empty where all were."""
    years = [str(year) for year, offered in OFFERED.items() if offered.provisional]
    if not years:
        return ""
    be, run = ("is", "runs") if len(years) == 1 else ("are", "run")
    return (
        f"{' and '.join(years)} {be} provisional and {run} on the {NEWEST_COMPARED} rules. Nobody here has compared "
        "the two."
    )


# ---- numbers in words ----------------------------------------------------------------------------------------------


def words(value: int | Decimal) -> str:
    """``four``; a number with decimals, or over ten, in digits."""
    whole = int(value)
    return NUMBER_WORDS[whole] if value == whole and whole < len(NUMBER_WORDS) else count(Decimal(value))


def times(value: int | Decimal) -> str:
    """``not at all``, ``once``, ``twice``, ``3 times``."""
    return {0: "not at all", 1: "once", 2: "twice"}.get(int(value), f"{count(Decimal(value))} times")


def allowances(value: int | Decimal) -> str:
    """``no allowance``, ``one allowance``, ``two allowances``."""
    return f"{words(value)} allowance" + ("" if value in (0, 1) else "s")


def capital(text: str) -> str:
    """With its first letter large."""
    return text[:1].upper() + text[1:]


def either(sizes: Iterable[str]) -> str:
    """``#12 or #10``; ``#8, #6 or #4``."""
    *some, last = [size_text(size) for size in sizes]
    return f"{', '.join(some)} or {last}" if some else last


# ---- box fill ------------------------------------------------------------------------------------------------------


@tells("box-fill-conductors", "box_fill.conductors")
def conductors(book: CodeBook) -> str:
    terms = book.block("box_fill.conductors")
    return (
        f"Spliced or terminated: {times(terms['ends'])}. Straight through: {times(terms['passes'])}. Unbroken with a "
        f"loop at least {times(terms['loop_times'])} the free conductor: {times(terms['looped'])}. Never leaves the box: "
        f"{times(terms['inside'])}."
    )


@tells("box-fill-fixture-wires", "box_fill.fixture_wires")
def fixture_wires(book: CodeBook) -> str:
    terms = book.block("box_fill.fixture_wires")
    return (
        f"Up to {words(terms['relieved'])} wires from a domed canopy are left out if they are smaller than "
        f"{size_text(terms['smaller_than'])}. So is its ground."
    )


@tells("box-fill-low-voltage", "box_fill.low_voltage")
def low_voltage(book: CodeBook) -> str:
    size = size_text(book.block("box_fill.low_voltage")["count_as"])
    return f"The code gives these wires no allowance. By default each counts as a {size} (disputed: low-voltage)."


@tells("box-fill-clamps", "box_fill.clamps")
def clamps(book: CodeBook) -> str:
    return f"{capital(allowances(book.block('box_fill.clamps')['together']))} for all clamps inside the box together."


@tells("box-fill-clamps", "box_fill.clamps")
@tells("box-room-clamp-assembly", "box_fill.clamps")
def clamp_assembly(book: CodeBook) -> str:
    taken = book.block("box_fill.clamps")["assembly"]
    if taken:
        return f"A clamp assembly takes {allowances(taken)} like any other clamp, and nothing comes off the box volume."
    return f"A clamp assembly takes {allowances(taken)}. The part of it left inside comes off the box volume."


@tells("box-fill-fittings", "box_fill.fittings")
def fittings(book: CodeBook) -> str:
    return f"{capital(allowances(book.block('box_fill.fittings')['each_kind']))} for each kind of fitting."


@tells("box-fill-devices", "box_fill.devices")
def devices(book: CodeBook) -> str:
    terms = book.block("box_fill.devices")
    each, width = allowances(terms["per_yoke"]), inches(Decimal(terms["single_gang_in"]))
    return (
        f"{capital(each)} for each yoke. A device wider than {width} takes {each} for each gang it needs; one that "
        "wide but "
        f"mounted in a single gang counts as {words(terms['wide_gangs'])} gangs by default (disputed: wide-device)."
    )


@tells("box-fill-modules", "box_fill.modules")
def modules(book: CodeBook) -> str:
    each = allowances(book.block("box_fill.modules")["each"])
    return (
        f"The code gives no number. By default {each} for each module, or the volume of its body if that is more "
        "(disputed: relay-module)."
    )


@tells("box-fill-grounds", "box_fill.grounds")
def grounds(book: CodeBook) -> str:
    terms = book.block("box_fill.grounds")
    if terms["covered"] == "all":
        text = "One allowance covers all equipment grounds, however many there are."
    else:
        extra = Decimal(terms["extra"])
        more = f"{PARTS[extra]} of an allowance" if extra in PARTS else f"{count(extra)} of an allowance"
        text = (
            f"One allowance covers the first {words(terms['covered'])} equipment grounds, and each one after that adds "
            f"{more}."
        )
    if terms["isolated_set"]:
        return f"{text} An isolated-ground set takes {words(terms['isolated_set'])} more of its own."
    return f"{text} Isolated grounds count with the rest."


@tells("box-fill-terminal-blocks", "box_fill.terminal_blocks")
def terminal_blocks(book: CodeBook) -> str:
    each = book.block("box_fill.terminal_blocks")["each"]
    if not each:
        return (
            f"The code gives a terminal block {allowances(each)}. Leave room for it anyway (disputed: "
            "early-terminal-block)."
        )
    return f"{capital(allowances(each))} for each terminal block."


# ---- box volume ----------------------------------------------------------------------------------------------------


@tells("box-room-standard", "box_room.standard")
def standard(book: CodeBook) -> str:
    volumes = [Decimal(row["volume"]) for row in book.block("box_room.standard")["rows"]]
    return (
        f"The table has {len(volumes)} boxes, from {number(min(volumes))} to {number(max(volumes))} in3. The page "
        "'box' has them."
    )


@tells("box-room-standard", "box_room.marked")
@tells("box-room-marked", "box_room.marked")
def marked(book: CodeBook) -> str:
    return "A marked box has the volume marked in it. A nonmetallic box must be marked."


@tells("box-room-marked", "box_room.measured")
def measured(book: CodeBook) -> str:
    limit = book.block("box_room.measured")["larger_than"]
    return (
        f"A metal box over {limit} in3 with no marking is measured inside. A smaller one must be marked or of a "
        "standard size."
    )


@tells("box-room-parts", "box_room.marked")
def parts(book: CodeBook) -> str:
    adds = Decimal(book.block("box_room.marked")["unmarked_part"])
    return f"An unmarked ring or cover of no standard size adds {f'{number(adds)} in3' if adds else 'nothing'}."


@tells("box-room-barriers", "box_room.barrier")
def barriers(book: CodeBook) -> str:
    terms = book.block("box_room.barrier")
    metal, nonmetallic = Decimal(terms["metal"]), Decimal(terms["nonmetallic"])
    if not terms["stated"]:
        return (
            "The code does not say what a barrier takes off. By default nothing comes off, marked or not; leave room "
            "for "
            "it anyway (disputed: early-barrier)."
        )
    return (
        f"A barrier takes off the volume marked on it. With no marking it takes {number(metal)} in3 if it is metal and "
        f"{number(nonmetallic)} in3 if it is not."
    )


@tells("box-room-barriers", "box_room.spaces")
def spaces(book: CodeBook) -> str:
    return "Each space is counted by itself."


# ---- conduit bodies ------------------------------------------------------------------------------------------------


@tells("conduit-body-splices", "conduit_bodies.splices")
def body_splices(book: CodeBook) -> str:
    return "Splices, taps and devices are allowed only in a body marked with its volume."


@tells("conduit-body-splices", "conduit_bodies.short_radius")
def short_radius(book: CodeBook) -> str:
    return "A short-radius body takes no splice, tap or device."


@tells("conduit-body-passing", "conduit_bodies.cross_section")
def cross_section(book: CodeBook) -> str:
    return (
        f"The cross-section of the body is at least {times(book.block('conduit_bodies.cross_section')['times'])} that of the "
        "raceway."
    )


@tells("conduit-body-passing", "raceways.fill")
def raceway_fill(book: CodeBook) -> str:
    terms = book.block("raceways.fill")
    one, two, more = (f"{terms[number]}%" for number in ("one", "two", "more"))
    return f"One conductor may fill {one} of the raceway, two may fill {two}, and more than two {more}."


@tells("conduit-body-passing", "raceways.rounding")
def rounding(book: CodeBook) -> str:
    return (
        "A count of conductors all of one size rounds up from a decimal of "
        f"{count(Decimal(book.block('raceways.rounding')['up_from']))}."
    )


@tells("conduit-body-passing", "raceways.cable")
def raceway_cable(book: CodeBook) -> str:
    return f"A cable counts as {plural(book.block('raceways.cable')['counts'], 'conductor').replace('1 ', 'one ', 1)}."


@tells("conduit-body-passing", "raceways.bore", "raceways.insulated", "raceways.bare")
def areas(book: CodeBook) -> str:
    text = "The areas of raceways and of insulated and bare wires come from the code's tables."
    remembered: Counter[str] = Counter()
    for table in ("raceways.bore", "raceways.insulated", "raceways.bare"):
        for row in book.block(table)["rows"]:
            if row.get("confidence") == MEMORY:
                remembered[row.get("kind") or row.get("types") or size_text(row["size"])] += 1
    if remembered:
        of = ", ".join(f"{name.upper()} ({plural(rows, 'row')})" for name, rows in remembered.items())
        text += f" From memory: {of}."
    return text


# ---- depth ---------------------------------------------------------------------------------------------------------


@tells("box-depth", "box_depth.empty")
def empty_depth(book: CodeBook) -> str:
    return f"A box with no device must be at least {inches(Decimal(book.block('box_depth.empty')['depth']))} deep."


@tells("box-depth", "box_depth.projecting")
def projecting_depth(book: CodeBook) -> str:
    terms = book.block("box_depth.projecting")
    beyond, clearance = inches(Decimal(terms["beyond"])), inches(Decimal(terms["clearance"]))
    return f"Behind a device that reaches back more than {beyond}, the box must be that reach plus {clearance} deep."


@tells("box-depth", "box_depth.by_conductor")
@tells("depth-unknown", "box_depth.by_conductor")
def conductor_depth(book: CodeBook) -> str:
    rows: list[dict[str, Any]] = book.block("box_depth.by_conductor")["rows"]
    least = "; ".join(f"{inches(Decimal(row['depth']))} with {either(row['sizes'])} on it" for row in rows)
    text = f"Behind a device the box must be at least this deep: {least}."
    for row in rows:
        if "projecting_beyond" in row:
            beyond, clearance = inches(Decimal(row["projecting_beyond"])), inches(Decimal(row["clearance"]))
            text += (
                f" With {either(row['sizes'])} and a device that reaches back more than {beyond}, it is the reach plus "
                f"{clearance}"
            )
    return text


@tells("box-depth", "box_depth.rear_entry")
def rear_entry_depth(book: CodeBook) -> str:
    clearance = inches(Decimal(book.block("box_depth.rear_entry")["clearance"]))
    return " ".join(
        f"Where {either(row['sizes'])} comes in through the middle of the back wall, behind a device that reaches back "
        "more than "
        f"{inches(Decimal(row['projecting_beyond']))}, the clearance is {clearance}"
        for row in book.block("box_depth.by_conductor")["rows"]
        if "projecting_beyond" in row
    )


@tells("box-depth", "box_depth.large")
def large_depth(book: CodeBook) -> str:
    return (
        f"A device with wires larger than {size_text(book.block('box_depth.large')['larger_than'])} needs a box identified "
        "for it."
    )


@tells("side-entry", "box_depth.side_entry")
@tells("side-entry-clearance", "box_depth.side_entry")
def side_entry(book: CodeBook) -> str:
    clearance = Decimal(book.block("box_depth.side_entry")["clearance"])
    if not clearance:
        return "The code says nothing about side entries, and nothing is checked."
    return f"The device stays in front of the middle of the entry, or at least {inches(clearance)} off the box wall."


# ---- what no count sees --------------------------------------------------------------------------------------------


@tells("large-conductors", "reminders.pull_box")
def pull_box(book: CodeBook) -> str:
    return f"The box for {size_text(book.block('reminders.pull_box')['from_size'])} and larger is sized by distances."


@tells("support-ratings", "reminders.fan")
@tells("support", "reminders.fan")
def fan(book: CodeBook) -> str:
    terms = book.block("reminders.fan")
    return (
        f"A fan on a box weighs {terms['most_lb']} lb at most. Over {terms['marked_over_lb']} lb the marking gives the "
        "weight."
    )


@tells("support-ratings", "reminders.luminaire")
@tells("support", "reminders.luminaire")
def luminaire(book: CodeBook) -> str:
    terms = book.block("reminders.luminaire")
    return (
        f"A luminaire over {terms['ceiling_lb']} lb hangs from the building or from a box listed for it. A luminaire "
        "of "
        f"{terms['light_lb']} lb or less may hang on a device box on a wall."
    )


@tells("support", "reminders.small_equipment")
def small_equipment(book: CodeBook) -> str:
    return (
        f"Other equipment of {book.block('reminders.small_equipment')['light_lb']} lb or less may hang on a device box."
    )


@tells("free-conductor", "reminders.free_conductor")
def free_conductor(book: CodeBook) -> str:
    terms = book.block("reminders.free_conductor")
    return (
        f"Leave {terms['length']} in. free, reaching {terms['outside']} in. outside an opening under "
        f"{terms['opening_under']} in."
    )


@tells("free-conductor", "reminders.free_conductor")
def spliced_free_conductor(book: CodeBook) -> str:
    if book.block("reminders.free_conductor")["spliced"]:
        return "A splice may make up the length."
    return "By default a splice may not make up the length (disputed: spliced-free-length)."


@tells("covers", "reminders.cover")
def cover(book: CodeBook) -> str:
    if book.block("reminders.cover")["screws"]:
        return (
            "The box needs a cover, faceplate or canopy, with screws that match its threads. Drywall screws are not "
            "allowed."
        )
    return "The box needs a cover, faceplate or canopy."


@tells("covers", "reminders.access")
def access(book: CodeBook) -> str:
    return "The box must stay reachable."


@tells("covers", "reminders.finish")
def finish(book: CodeBook) -> str:
    terms = book.block("reminders.finish")
    back, gap = inches(Decimal(terms["set_back"])), inches(Decimal(terms["gap"]))
    return (
        f"The front edge is set back {back} at most in a finish that does not burn, and flush with one that does. Gaps "
        f"around the box are {gap} at most."
    )


@tells("covers", "reminders.sheath")
def sheath(book: CodeBook) -> str:
    terms = book.block("reminders.sheath")
    inside = inches(Decimal(terms["inside"]))
    boxes = "any box" if terms["metal"] else "a nonmetallic box"
    return f"Cable sheath comes {inside} or more into {boxes} and past any clamp."


@tells("metal-into-nonmetallic", "reminders.metal_entry")
def metal_entry(book: CodeBook) -> str:
    return "Metal raceway or armored cable enters a nonmetallic box only if the box can bond it."


@tells("cable-without-clamp", "reminders.unclamped")
def unclamped(book: CodeBook) -> str:
    terms = book.block("reminders.unclamped")
    gangs = plural(terms["gangs"], "gang").replace("1 gang", "a single gang")
    return (
        f"Cable may enter a nonmetallic box of {gangs} with no clamp if it is fastened within {terms['within']} in. of "
        "the box."
    )


@tells("class-2-beside-power", "reminders.power_limited")
def power_limited(book: CodeBook) -> str:
    return "Class 2, signal and data wires stay apart from light and power conductors."


@tells("old-wiring", "reminders.reduced_ground")
def reduced_ground(book: CodeBook) -> str:
    return (
        f"A ground thinner than the conductors was usual {book.block('reminders.reduced_ground')['usual_era']}. It does not "
        "serve new work."
    )


@tells("old-wiring", "reminders.nm_temperature")
def nm_temperature(book: CodeBook) -> str:
    year = book.block("reminders.nm_temperature")["marked_since"]
    return f"Cable from before about {year} is for lower temperatures than most new luminaires call for."
