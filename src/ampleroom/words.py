"""The sentences on a verdict, each made once for terminal, JSON, page, packet, pictures, workbooks and remedies.

They are plain text, with units as plain text has them (``in3``). What shows them on a page or on paper passes them
through ``printed`` at its edge. A rule makes only the sentences that are its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from ampleroom.arithmetic import Unit
from ampleroom.quantities import NO_LIMIT, number, volume
from ampleroom.worksheet import BOX_FILL, Finding, OpenFact, Purpose, SubjectReport, Verdict, Worksheet

CAUTION = (
    "A calculation aid, not an approval. The local authority decides; local rules may be stricter. Licensed "
    "people only, with the circuit off and tested."
)

# ---- cases ---------------------------------------------------------------------------------------------------------

BEST_CASE = "best case"
WORST_CASE = "worst case"
DEPENDS = "depends on facts not checked yet"
NOT_JUDGED_OF_RACEWAY = "Not judged here: ampacity of more than three conductors together, power beside class 2."
NOT_JUDGED_OF_WIREWAY = (
    "Not judged here: ampacity, power beside class 2, and where along it each run lies. All are counted side by side; "
    "where they do not all lie at one place, write it as two."
)
NOT_JUDGED_OF_LOAD = (
    "Not judged here: stores, offices and farms. Write each appliance that is fastened in place. Circuits of 120 V "
    "that say nothing, or only rooms, lights and receptacles, are counted by the floor area."
)
NOT_IN_THE_SHEET = "The load counts no {}: the sheet has none. If the house has it, or will, write it."
SERVICE_NEEDED = (
    "{}: {}, {} A at {} V. The next standard rating is {} A. The least service of a one-family dwelling may be larger"
)
SERVICE_QUESTION = "what the service is rated for"
SERVICE_REMEDY = "write it after the floor area, such as service {} A"
OPTIONAL_ASKS = "{}: the optional method asks for {} A or more"
AT_VOLTS = ", {} A at {} V"
ANOTHER_METHOD = ". Another method the code allows is enough"
ANOTHER_METHOD_MAY = ". Another method the code allows may be enough"
SERVICE_WIRES = (
    "Thinnest wires of a {} A service of one dwelling: {} copper or {} aluminum, with 75 C terminals, where neither "
    "heat nor company takes anything. Grounding electrode conductor: {} copper, by aluminum wires {} copper."
)
NOT_JUDGED_OF_CIRCUIT = (
    "Not judged here: a neutral thinner than the hots, most terms of taps, the largest breaker of appliances other "
    "than water heaters, ovens and cooktops, grounding electrodes that are not written, {}"
    "welders, fire pumps, elevators and other special loads."
)
"""With ``PROTECTION_NOT_JUDGED`` or ``OUTDOORS_NOT_JUDGED`` in it."""
PROTECTION_NOT_JUDGED = "ground-fault and arc-fault protection, as no room is written, "
OLD_NOT_JUDGED = "ground-fault and arc-fault protection of old wiring, "

ELECTRODE_ENOUGH = "{0}: {1} to the {2} is thick enough; {3} is needed"
ELECTRODE_THIN = "{0}: {1} to the {2} is too thin; {3} is needed"
ELECTRODE_RING = "{0}: {1} to the {2} is enough only if the ring is no thicker; else {3} is needed"
TAP_ASKED = "whether the tap {0} meets its terms: its length, its end, what protects it, and that it carries its load"
TAP_REMEDY = "not worked out here: look at 240.21(B) for feeders and 210.19 for branch circuits, or ask your authority"
LOADS_DISAGREE = "{0} has a load of {1} VA in its line and of {2} VA at its places; the larger one is counted"
LOADS_REMEDY = "make both say the same, or leave the load out of the circuit's line"

# ---- protection by place -------------------------------------------------------------------------------------------

MOST_PLACES_NAMED = 3
PROTECTION_THERE = "{} has the {} protection needed in a dwelling at {}"
PROTECTION_NOT_ASKED = "{} needs no {} protection in a dwelling at {}"
PROTECTION_ASKED = "{} needs {} protection at {}; the sheet does not say whether it is there"
PROTECTION_OPEN = "{} may need {} protection"
PROTECTION_LACKS = "{} lacks {} protection at {}"
ROOM_QUESTION = "which room {} is in"
ROOM_REMEDY = "write it under the box, such as room kitchen; after equipment, such as room garage"
END_QUESTION = "where {} is, and what is there"
END_REMEDY = "find it, and give it a box with its room"
NEAR_QUESTION = "what the receptacles at {} serve: the counter, or a place near the sink"
NEAR_REMEDY = "write counter, near sink or away after the room"
WHICH_CIRCUIT_QUESTION = "which circuit feeds the receptacles at {}"
WHICH_CIRCUIT_REMEDY = "write the wire on each device, such as receptacle #12"
GROUND_FAULT_QUESTION = "whether the receptacles at {} have ground-fault protection"
GROUND_FAULT_REMEDY = (
    "write gfci or no gfci on the circuit; gfci receptacle in the box; or room ... gfci where a device upstream feeds "
    "it"
)
ARC_FAULT_QUESTION = "whether {} has arc-fault protection"
ARC_FAULT_REMEDY = "read it on the breaker and write afci, or no afci"
ARC_DEVICE_REMEDY = "write afci on the circuit if the wiring before the first receptacle is of a kind the code lists"
OUTDOOR_QUESTION = "whether {} has ground-fault protection at {}"
OUTDOOR_REMEDY = "read it on the breaker and write gfci, or no gfci, on the circuit"
HVAC_QUESTION = "whether the equipment at {} is let off here: listed heating and cooling equipment was until {}"
HVAC_REMEDY = "ask your authority; where it is not let off, it needs ground-fault protection: write gfci on the circuit"
APPLIANCE_THERE = "{} has the ground-fault protection that {} needs"
APPLIANCE_ASKED = "{} needs ground-fault protection for {}; the sheet does not say whether it is there"
APPLIANCE_LACKS = "{} lacks the ground-fault protection that {} needs"
APPLIANCE_REMEDY = "read it on the breaker or the receptacle and write gfci, or no gfci, on the circuit"
APPLIANCE_UNSAID = (
    "{} needs ground-fault protection in a dwelling. Not judged, as nothing is written of it: write gfci, or no gfci, "
    "on the circuit."
)
RECEPTACLES_FIT = "{} of {} A takes receptacles of {} A, as at {}{}"
USUAL_RATING_TAKEN = "; one without a rating is taken for {} A"
RECEPTACLES_NOT_ALLOWED = "{} has receptacles at {} that a circuit of {} A does not take: it takes {}"
RECEPTACLES_UNKNOWN = "{} has receptacles at {} of no known rating: a circuit of {} A takes {}"
RECEPTACLE_AMPERES = "{} A"
NO_RECEPTACLES = "none"
RECEPTACLE_QUESTION = "the rating of the receptacles at {}"
RECEPTACLE_REMEDY = "read it on the device and write it, such as receptacle #10 30 A"
SINGLE_RECEPTACLE_FITS = "{} feeds one single receptacle, at {}: {} A, no less than {} A"
SINGLE_RECEPTACLE_TOO_SMALL = "{} feeds one single receptacle, at {}: {} A, less than its {} A"
MULTIWIRE_LEGS = (
    "Circuits {} share a neutral: put their hots on different legs and measure it. On one leg the neutral carries the "
    "sum of both, and no breaker trips."
)
MULTIWIRE_DISCONNECT = (
    "Circuits {} open together at the panel: a multipole breaker, or single ones with a handle tie made for them. A "
    "tie does not make one trip the other."
)
NOT_JUDGED_OF_PANEL = (
    "Not judged here: which breakers its label allows, its enclosure and what it can interrupt; whether its main "
    "carries the load is judged with a line for the dwelling. Spaces are numbered in two columns, odd on the left, as "
    "is common practice."
)
MULTIWIRE_GROUPING = "Tie the hots and the neutral together in the panel, unless they come in a raceway of their own."
MULTIWIRE_NEUTRAL = "Pigtail the shared neutral at every device: it must not depend on one."
MULTIWIRE_LOADS = (
    "Shared neutral: only loads from a hot to the neutral, unless it feeds one appliance or the breaker opens all hots "
    "together."
)
ONE_WIRE_A_TERMINAL = (
    "Several runs of {} leave {}: one wire a terminal, unless its breaker is marked for more. Splice them to one wire."
)
ALUMINUM_ENDS = (
    "Aluminum and copper-clad wire need terminals marked for them: AL, or CO/ALR on a receptacle or switch, made up as "
    "their maker says; never under one terminal with copper unless that is marked for both."
)
TORQUE = "Tighten lugs to the torque marked on them, with a tool that shows it."
NEUTRAL_APART = (
    "In {} keep neutral and ground apart: no bonding screw or strap. In another building it gets a grounding electrode "
    "of its own."
)
SERVICE_BONDED = (
    "Bond the metal raceways and boxes of the service around knockouts and reducing washers, with bushings or hubs "
    "made for it; bond neutral and ground once, at the service disconnect."
)
OLD_WIRING_MAY_STAY = "Old wiring may stay. A receptacle that is replaced gets {} where a new one would have it."
NO_GROUND_IN_THE_BOX = (
    " Where its box has no ground, put in a two-slot receptacle again, or one behind a ground-fault device and marked "
    "so, with no ground run on from it and no new outlet fed by it."
)
OLD_CIRCUIT_EXTENDED = (
    "An old circuit is made longer or changed here. In a room that needs arc-fault protection it gets it at "
    "its start or at its first receptacle{}."
)
DROP_UNKNOWN = "Voltage drop not worked out: {0} {1} not written."
DROP_WITH_FEEDER_UNKNOWN = "Voltage drop with the feeder not worked out: {0} {1} not written."
DROP_WITHOUT = "; more is lost in what is not written"
SPLICES_ASSUMED = (
    "Assumes no splices and no taps in {0}. Open it and look: with the conductors they may fill {1} % of it at any "
    "place. Write no splices, or what they take: splices 6 in2."
)
SHARED = "{} may be one {} with the runs of lines {}: apart they fit, together they do not"
SHARED_QUESTION = "whether the runs of lines {} share one raceway"
SHARED_REMEDY = "give each raceway a line of its own and name it in its runs"
NOT_WEIGHED_TOGETHER = "matters together with the others"
TOO_MANY_FACTS = "{}: too many facts are not known to try them all"
CASE_SHOWN = {
    True: "Best case: facts not checked yet are counted at their best, and it still fails.",
    False: "Worst case: facts not checked yet are counted on the safe side.",
}
"""Which case a worksheet shows where facts are unknown, by whether it fails."""
FAILS_ANYWAY = "It fails even if every fact not checked yet turns out well."
ONLY_DIFFERENCE = "{}: only this differs"

# ---- facts to check ------------------------------------------------------------------------------------------------

CHECK_THIS = "Check this"
CHECK_THESE = "Check these, most useful first"
CHECK_ONCE = "Check these once: each settles several boxes"
NO_VALUE_PASSES = "No value passes everything."
NOT_ENOUGH = "not enough by itself"
IF_FACTS_ALLOW = "if the facts not checked yet allow it"

# ---- other headings ------------------------------------------------------------------------------------------------

EMPTY = "nothing is written in it yet"
DISTANCES = "pull-box"
"""The rule that weighs the distances of a pull box."""
ON_SITE = "Check at the box"
DISPUTED = "Disputed points that matter here"
FITS_OR_NOT = {
    Verdict.PASSES: "YES",
    Verdict.ADVICE: "YES, BUT THE CODE ADVISES AGAINST IT",
    Verdict.OPEN: "ONLY IF THE FACTS NOT CHECKED YET ALLOW IT",
    Verdict.FAILS: "NO",
}
"""The answer to whether something more goes in."""

COUNTED = {
    Verdict.FAILS: ("fails", "fail"),
    Verdict.OPEN: ("needs a check", "need a check"),
    Verdict.ADVICE: ("passes with advice", "pass with advice"),
    Verdict.PASSES: ("passes", "pass"),
}
"""What one subject with a verdict does, and what several do."""


def counts_text(counts: dict[Verdict, int]) -> str:
    """``1 fails, 2 need a check, 4 pass``; ``nothing to check`` where there is no subject."""
    parts = [f"{number_of} {COUNTED[verdict][number_of != 1]}" for verdict, number_of in counts.items() if number_of]
    return ", ".join(parts) or "nothing to check"


FEW = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def number_word(number: int) -> str:
    """A count in words up to nine, in digits above."""
    return FEW[number] if number < len(FEW) else str(number)


def room_text(more: Iterable[tuple[int, str]]) -> str:
    """``Room for one more 12/2 nm-b, or two more 14/3 nm-b``; of how many of each cable fit, one kind at a time. Empty
    for none.
    """
    parts = [f"{number_word(many)} more {cable}" for many, cable in more]
    return f"Room for {', or '.join(parts)}" if parts else ""


def too_many_text(number_of: int, cable: str) -> str:
    """``one 12/2 cable too many``, ``two 14/3 cables too many``."""
    return f"{number_word(number_of)} {cable} cable{'' if number_of == 1 else 's'} too many"


def more_words(name: str, place: str, number_of: int = 1) -> str:
    """What a tap put in, as undo and the history name it: ``one 12/2 more in K1``."""
    return f"{FEW[number_of] if number_of < len(FEW) else number_of} {name} more in {place}"


def fewer_words(name: str, place: str, number_of: int = 1) -> str:
    """What a tap took out, as undo and the history name it: ``one 12/2 less in K1``."""
    return f"{FEW[number_of] if number_of < len(FEW) else number_of} {name} less in {place}"


def neighbor_text(name: str, result: str) -> str:
    """What a change did to another box: ``also J2: 1.50 in3 over``."""
    return f"also {name}: {result}"


# ---- rows of a box -------------------------------------------------------------------------------------------------

CABLE_UNKNOWN = "Cable not known"
DEVICE_UNKNOWN = "Device not known"
FROM_CABLES = "from the cables"
GROUNDS_TITLE = "Grounds"


def wires_words(sizes: Iterable[tuple[str, str]]) -> str:
    """How many wires of each size: ``6 × #12``."""
    return ", ".join(f"{many} × {size}" for many, size in sizes)


def alike_words(number_of: int, name: str) -> str:
    """So many of one thing: ``three 12/2``."""
    return f"{FEW[number_of] if number_of < len(FEW) else number_of} {name}"


def grounds_words(number_of: str) -> str:
    """Where the grounds come from: ``3, from the cables``."""
    return f"{number_of}, {FROM_CABLES}"


def amount_between(before: Decimal, after: Decimal) -> str:
    """An amount in a row, its unit at the head of the column: ``4.50``; ``4.00 to 4.50`` or ``up to 2.25`` where facts
    are not known, ``4.00 or more`` without a limit.
    """
    least, most = sorted((before, after))
    if least == NO_LIMIT:
        return "?"
    if least == most:
        return number(least)
    if most == NO_LIMIT:
        return f"{number(least)} or more"
    return f"{number(least)} to {number(most)}" if least else f"up to {number(most)}"


# ---- surfaces ------------------------------------------------------------------------------------------------------

PRINTED = {unit.plain: unit.printed for unit in Unit if unit.plain != unit.printed}
"""Units the page and paper print in another way: ``in3`` as ``in³``."""


def printed(text: str) -> str:
    """A text as the page and paper show it: ``21.00 in3`` -> ``21.00 in³``."""
    return re.sub(rf"(?<=[\d)] )(?:{'|'.join(PRINTED)})\b", lambda match: PRINTED[match[0]], text)


def all_printed(value: Any, keys: frozenset[str] | None = None) -> Any:
    """Plain data (lists, tuples, dictionaries) with its texts as the page and paper show them.

    ``keys``: only what stands under one of these, in whatever it stands; None: every text. A unit alone is a text too.
    """
    if isinstance(value, dict):
        return {key: all_printed(each, None if keys is None or key in keys else keys) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [all_printed(each, keys) for each in value]
    if keys is not None or not isinstance(value, str):
        return value
    return PRINTED.get(value) or printed(value)


# ---- amounts -------------------------------------------------------------------------------------------------------


def margin_text(sheet: Worksheet, unit: str | None = None) -> str:
    """``1.50 in3 over``, ``4.50 in3 spare``, ``exactly full``; ``not known`` where nobody can say.

    ``unit`` takes the place of the worksheet's: ``cubic inches`` for what is spoken, empty for what is short.
    """
    if not sheet.margin.is_finite():
        return "not known"
    if sheet.margin == 0:
        return "exactly full" if sheet.purpose == BOX_FILL else "exactly at the limit"
    side = "spare" if sheet.margin > 0 else "over"
    return " ".join(filter(None, (sheet.margin_printed, sheet.unit.plain if unit is None else unit, side)))


def sum_text(sheet: Worksheet) -> str:
    """The sum that decides: ``Box volume 21.00 - box fill 22.50 = 1.50 in3 over``."""
    have = f"{sheet.purpose.have} {sheet.there_printed}"
    need = f"{lowered(sheet.purpose.need)} {sheet.needed_printed}"
    return f"{have} - {need} = {margin_text(sheet)}" if sheet.margin.is_finite() else f"{have}, {need}"


def lowered(text: str) -> str:
    """With a small first letter: ``Box fill`` -> ``box fill``."""
    return text[:1].lower() + text[1:]


def capital(text: str) -> str:
    """With a capital first letter."""
    return text[:1].upper() + text[1:]


def range_of_margin(subject: SubjectReport, headline: Purpose | None) -> str:
    """From the worst case to the best of a subject that is open: ``1.50 over to 0.75 in3 spare``; empty where one has
    no bound or another rule than its headline decides.
    """
    finding = deciding(subject, headline)
    if finding is None or subject.verdict is not Verdict.OPEN or finding.worst is None or finding.best is None:
        return ""
    if not (finding.worst.margin.is_finite() and finding.best.margin.is_finite()):
        return ""
    worst, best = margin_text(finding.worst, ""), margin_text(finding.best)
    return f"{worst} to {best}" if worst != margin_text(finding.best, "") else ""


# ---- box fill ------------------------------------------------------------------------------------------------------


def fill_message(name: str, verdict: Verdict, worst: Worksheet, best: Worksheet | None) -> str:
    """One line that is enough alone: the difference and the two amounts.

    ``J1 is 1.50 in3 over: box fill 22.50 in3, box volume 21.00 in3``. ``best``: None where nothing is unknown.
    """
    if verdict is Verdict.OPEN:
        assert best is not None
        return f"{name} {DEPENDS}: {range_text('box fill', best.needed, worst.needed)}, {volumes_text(worst, best)}"
    sheet, case = (best, BEST_CASE) if verdict is Verdict.FAILS and best is not None else (worst, WORST_CASE)
    is_or_has = "has" if sheet.margin > 0 else "is"
    message = f"{name} {is_or_has} {margin_text(sheet)}"
    if best is not None:
        message += f", {case}"
    return f"{message}: box fill {volume(sheet.needed)}, box volume {volume(sheet.there)}"


def range_text(label: str, least: Decimal, most: Decimal) -> str:
    """``box fill 11.25 to 13.50 in3``; ``box fill 11.25 in3 or more`` where nobody can say how much."""
    if least == most:
        return f"{label} {volume(least)}"
    return f"{label} {volume(least)} or more" if most == NO_LIMIT else f"{label} {number(least)} to {volume(most)}"


def volumes_text(worst: Worksheet, best: Worksheet) -> str:
    """``box volume 18.00 to 21.50 in3``; ``box volume not known``."""
    if best.there == NO_LIMIT:
        return "box volume not known"
    return range_text("box volume", worst.there, best.there)


def weighed_message(name: str, verdict: Verdict, worst: Worksheet, best: Worksheet | None = None) -> str:
    """Of any worksheet: ``R1 has 0.1502 in2 spare: conductors 0.1958 in2, allowed fill 0.3460 in2``.

    ``best``: None where nothing is unknown.
    """
    have, need, unit = lowered(worst.purpose.have), lowered(worst.purpose.need), worst.unit
    if verdict is Verdict.OPEN and best is not None:
        return (
            f"{name} {DEPENDS}: {amounts_text(need, best.needed, worst.needed, unit)}, "
            f"{amounts_text(have, worst.there, best.there, unit)}"
        )
    sheet, case = (best, BEST_CASE) if verdict is Verdict.FAILS and best is not None else (worst, WORST_CASE)
    if not sheet.margin.is_finite():
        return f"{name}: {need} not known, {have} {unit.amount(sheet.there)}"
    message = f"{name} {'has' if sheet.margin > 0 else 'is'} {margin_text(sheet)}"
    if best is not None:
        message += f", {case}"
    return f"{message}: {need} {unit.amount(sheet.needed)}, {have} {unit.amount(sheet.there)}"


def amounts_text(label: str, least: Decimal, most: Decimal, unit: Unit) -> str:
    """``conductors 0.1631 to 0.1958 in2``; ``conductors 0.1631 in2 or more`` where nobody can say how much."""
    if least == most:
        return f"{label} {unit.amount(least)}"
    if not least and not most.is_finite():
        return f"{label} not known"
    if not most.is_finite():
        return f"{label} {unit.amount(least)} or more"
    return f"{label} {unit.number(least)} to {unit.amount(most)}"


def empty_message(name: str, sheet: Worksheet | None, is_volume_unknown: bool) -> str:
    """``J1 has nothing in it yet; box volume 21.00 in3``; without a worksheet no volume."""
    if sheet is None:
        return f"{name} has nothing in it yet"
    return f"{name} has nothing in it yet; box volume {'not known' if is_volume_unknown else volume(sheet.there)}"


def worst_case_message(message: str) -> str:
    """What a rule finds only where facts are at their worst."""
    return f"{message}, {WORST_CASE}"


# ---- findings ------------------------------------------------------------------------------------------------------


def deciding(subject: SubjectReport, headline: Purpose | None) -> Finding | None:
    """The finding that gives a subject its verdict: of the worst the one with the least margin of its headline, else
    the first; None where no rule found anything. A pull box that passes is told of by its tightest distance where that
    leaves less of itself than its volume does.
    """
    worst = [finding for finding in subject.findings if finding.verdict is subject.verdict]
    weighed = [
        (sheet.margin, place)
        for place, finding in enumerate(worst)
        if (sheet := finding.worksheet) is not None and sheet.purpose == headline and sheet.margin.is_finite()
    ]
    first = worst[min(weighed)[1]] if weighed else next(iter(worst), None)
    if subject.verdict is Verdict.PASSES and weighed and any(map(is_distance, worst)):
        return min((first, *filter(is_distance, worst)), key=share_left)
    return first


def is_distance(finding: Finding | None) -> bool:
    """Whether a finding weighs a distance of a pull box."""
    sheet = finding.worksheet if finding else None
    return sheet is not None and sheet.purpose.name == DISTANCES and sheet.margin.is_finite()


def share_left(finding: Finding | None) -> Decimal:
    """How much is left of what there is, as a share of it."""
    sheet = finding.worksheet if finding else None
    return sheet.margin / sheet.there if sheet is not None and sheet.there else Decimal(0)


def subject_message(subject: SubjectReport, headline: Purpose | None) -> str:
    """The sentence that says why a subject has its verdict."""
    finding = deciding(subject, headline)
    return finding.message if finding else f"{subject.name}: {EMPTY}"


def headline_text(subject: SubjectReport, headline: Purpose | None, unit: str | None = None) -> str:
    """``1.50 in3 over``: what is said beside a subject's name; empty where a check is needed or another rule
    decides. Of a pull box with room enough, what its tightest distance has spare: ``2 in. spare``.
    """
    finding = deciding(subject, headline)
    sheet = finding.worksheet if finding else None
    if subject.verdict is Verdict.PASSES and is_distance(finding) and sheet is not None:
        return margin_text(sheet, sheet.unit.spoken if unit else None)
    if subject.verdict is Verdict.OPEN or sheet is None or sheet.purpose != headline or not sheet.margin.is_finite():
        return ""
    return margin_text(sheet, unit)


def other_case_text(finding: Finding) -> str:
    """The sum in the case that does not decide: ``Best case: Box volume 21.50 - box fill ...``; empty where there is
    one case.
    """
    if finding.best is None or finding.worst is None:
        return ""
    other, case = (finding.worst, WORST_CASE) if finding.worksheet is finding.best else (finding.best, BEST_CASE)
    return f"{capital(case)}: {lowered(sum_text(other))}"


def big_word(subject: SubjectReport) -> str:
    """What stands in big letters where no number says it."""
    if subject.verdict is not Verdict.OPEN:
        return subject.verdict.word
    return "nothing in it yet" if subject.is_empty else DEPENDS


def short_message(message: str, name: str) -> str:
    """A message beside a name and a verdict that stand there already: ``1.50 in3 over: ...``."""
    text = message.removeprefix(name).lstrip(": ")
    known = next((start for start in (f"{DEPENDS}: ", "is ", "has ") if text.startswith(start)), "")
    return text.removeprefix(known)


# ---- facts ---------------------------------------------------------------------------------------------------------


def check_heading(facts: Iterable[OpenFact]) -> str:
    """The heading over these facts: one fact or several."""
    return questions_heading(len(tuple(facts)))


def worth_text(worth: Decimal) -> str:
    """Of a fact no value of which settles the finding: ``worth 2.25 in3; not enough by itself``."""
    return f"worth {volume(worth)}; {NOT_ENOUGH}" if worth and worth.is_finite() else NOT_ENOUGH


def by_value_text(by_value: Iterable[tuple[str, Verdict]]) -> str:
    """``#14: passes; #12, #10: fails``; of many in a row that settle the same only the first and the last."""
    groups: list[tuple[list[str], Verdict]] = []
    for name, verdict in by_value:
        if groups and groups[-1][1] is verdict:
            groups[-1][0].append(name)
        else:
            groups.append(([name], verdict))
    return "; ".join(f"{values_named(names)}: {verdict.word}" for names, verdict in groups)


MOST_VALUES = 6
"""So many values in a row are named; of more the first and the last."""


def values_named(names: list[str]) -> str:
    """``#12, #10``; ``20 A to 800 A``."""
    return ", ".join(names) if len(names) <= MOST_VALUES else f"{names[0]} to {names[-1]}"


def fact_text(fact: OpenFact) -> str:
    """``the volume marked in W2: passes if 13.50 in3 or more``."""
    return fact.question + (f": {fact.settles}" if fact.settles else "")


def questions_heading(number_of: int) -> str:
    """Above a job's facts to check."""
    return CHECK_THIS if number_of == 1 else CHECK_THESE


def first_clause(text: str) -> str:
    """The first clause of a longer text, for a list of one line each: up to a colon or a semicolon, without what stands
    in brackets.
    """
    return re.split(r"[:;]", re.sub(r" \([^()]*\)", "", text))[0].strip()


# ---- remarks on a source -------------------------------------------------------------------------------------------


NOT_MARKED = ("two sources", "one source", "computed")
"""How sure a value is without a remark beside it. ``rule NAME --sources``, JSON and workbooks tell two sources from
one."""


def unsure(confidence: str) -> str:
    """`` (from memory)``: how sure a value is, where that is worth a word."""
    return "" if confidence in NOT_MARKED else f" ({confidence})"


def cited(cite: str) -> str:
    """`` (314.16)``."""
    return f" ({cite})" if cite else ""
