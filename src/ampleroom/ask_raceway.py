"""A question about a raceway or a wireway in the words of the trade, written plainly.

    how many 12 thhn in 3/4 emt                 #12 thhn in emt 3/4, and the most is asked
    what size emt for 3 #8 and 1 #10 ground     3 x #8, ground #10 in emt
    can I pull two 12-2 nm in 1" sch 40 pvc     2 x 12/2 nm-b in pvc-40 1

Tried only on a question that cannot be read as it stands. Every word must be understood; the usual reader has the last
word on what comes out.
"""

from __future__ import annotations

import re

from ampleroom.errors import AmpleroomError
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.runs import CABLE_KINDS
from ampleroom.job.nicknames import ASKED_RACEWAYS, CABLES, RACEWAYS
from ampleroom.job.trade import INSULATIONS, SIZES
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import size_word
from ampleroom.record import Record

TRADE_SIZES = ("3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4", "5", "6")
IN_LETTERS = (
    (r"half|one half", "1/2"),
    (r"three[ -]quarters?", "3/4"),
    (r"(?:one |an )?inch and (?:a|one) quarter", "1-1/4"),
    (r"(?:one |an )?inch and (?:a|one) half", "1-1/2"),
    (r"one(?:[ -]inch)", "1"),
    (r"two[ -]inch", "2"),
    (r"three[ -]inch", "3"),
    (r"four[ -]inch", "4"),
)
"""Trade sizes in letters."""
COUNTS = {
    word: str(number)
    for number, word in enumerate(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1
    )
} | {"a": "1", "an": "1"}
KINDS = {kind: kind for kind in (*RACEWAY_KINDS, *ASKED_RACEWAYS) if kind != "c"} | RACEWAYS
KINDS |= {"schedule 40 pvc": "pvc-40", "pvc schedule 40": "pvc-40", "schedule 80 pvc": "pvc-80"}
KINDS |= {"pvc schedule 80": "pvc-80", "schedule 40": "pvc-40", "schedule 80": "pvc-80"}
KINDS |= {f"{kind} {pipe}": plain for kind, plain in KINDS.items() for pipe in ("conduit", "pipe", "raceway")}
KIND = "|".join(re.escape(kind) for kind in sorted(KINDS, key=len, reverse=True))
SIZE = r"(?:\d-\d/\d|\d/\d|\d)"
UNIT = r"(?: ?(?:in\.?|inch|\")(?![a-z]))?"
RACEWAY = re.compile(
    rf"(?<![\w#/-])(?:(?:in|into|inside|through|is|of) )?(?:(?:an?|one|the|some) )?(?:size )?"
    rf"(?:(?P<before>{SIZE}){UNIT} )?(?P<nipple_before>nipple )?(?P<kind>{KIND})(?![\w/-])"
    rf"(?: (?:size )?(?P<after>{SIZE}){UNIT}(?![\w/#]))?(?P<nipple>(?: conduit| pipe)? nipple)?"
    r"(?:,? (?P<many>\d[\d.]*) ?(?P<unit>in\.?|inch(?:es)?|ft\.?|feet|foot|\"|')(?: long)?(?![a-z0-9]))?"
)
"""``in a 3/4" emt nipple``, ``rigid 2``, ``sch 40 pvc``."""
NIPPLE = re.compile(r"(?P<many>\d[\d.]*)[ -]?(?P<unit>in\.?|inch|\")(?: long)? nipple(?: of| in)?(?: an?)?(?= )")
"""``in a 20 inch nipple of 3/4 emt``"""
WIREWAY = re.compile(
    r"(?:(?:in|into|inside|through|is) )?(?:(?:an?|the) )?"
    r"(?:(?P<side>\d[\d./-]*)\"? ?[x×] ?(?P<other>\d[\d./-]*)\"? )?"
    r"(?P<form>wireway|gutter)(?: (?P<side_after>\d[\d./-]*)\"? ?[x×] ?(?P<other_after>\d[\d./-]*)\"?)?(?![\w])"
)
BODY = re.compile(
    r"(?<![\w#/-])(?:(?:in|through|is) )?(?:(?:an?|the) )?(?:size )?"
    rf"(?:(?P<before>{SIZE}){UNIT} )?(?P<body>lb|ll|lr|tb)(?: conduit body| body| fitting)?(?![\w/-])"
    rf"(?: (?:size )?(?P<after>{SIZE}){UNIT}(?![\w/#]))?"
)
"""``2 in lb``: a conduit body and its trade size."""
MOST_ASKED = re.compile(r"\b(?:how many|how much|max(?:imum)?(?: (?:number|no\.?|count) of| of)?|(?:the )?most)\b")
WHICH_FITS = re.compile(r"\bwhat(?: else)? (?:fits|goes)\b")
IDLE = frozenset(
    (
        *("what", "which", "size", "sizes", "do", "does", "did", "i", "we", "you", "can", "could", "may", "will"),
        *("would", "should", "need", "needs", "needed", "required", "require", "use", "used", "is", "are", "ok"),
        *("okay", "big", "large", "enough", "too", "small", "fit", "fits", "fitted", "go", "goes", "going", "pull"),
        *("pulled", "pulling", "run", "running", "put", "putting", "get", "gets", "allowed", "allowable", "legal"),
        *("legally", "have", "has", "holds", "hold", "of", "for", "the", "in", "into", "inside", "through", "to"),
        *("it", "that", "there", "wire", "wires", "conductor", "conductors", "cable", "cables", "strand"),
        *("stranded", "solid", "copper", "cu", "long", "please", "at", "all", "together", "same", "more", "already"),
        *("min", "minimum", "smallest", "fill", "filled", "awg", "gauge", "ga", "number", "no", "nos", "be"),
        *("still", "work", "works", "right", "proper", "correct", "inch", "raceway", "conduit", "pipe", "stick"),
        *("worth", "else", "each", "any"),
    )
)
"""Words that say nothing of what lies in the raceway."""
GROUNDS = frozenset(["ground", "grounds", "grounding", "grd", "grnd", "gnd", "egc", "egcs", "equipment"])
COLORS = frozenset(["neutral", "neutrals", "hot", "hots", "black", "red", "white", "blue", "blk", "wht", "gray"])
"""Which conductor it is: it takes as much room as any other."""
ALUMINUM = frozenset(("al", "alum", "aluminum", "aluminium"))
CABLE = re.compile(r"(\d{1,2}|[1-4]/0)[-/]([2-4])(?:[-/]([2-4]))?(?:wg| w/g)?")
TRIPLEX = re.compile(r"((?:\d/0|\d{1,3})(?:-(?:\d/0|\d{1,3})){2,3})")
"""``4/0-4/0-2/0``: the sizes of conductors that go together."""
EDITION = re.compile(r",?\s*edition (\d{4})\s*$")


class RacewayQuestion(Record):
    """A question written plainly. ``asks_most``: whether the most of its first part is asked. ``no_kind``: the name of
    a raceway in it that several kinds share; the first of them stands in the plain question.
    """

    plain: str
    asks_most: bool = False
    no_kind: str = ""


def plain_question(typed: str) -> RacewayQuestion | None:
    """The question written plainly; None where a word is not understood, or it is not about one raceway or wireway and
    what lies in it. Raises ``AmpleroomError`` where all is understood and the wires are missing.
    """
    text, edition = spelled(typed), ""
    if year := EDITION.search(text):
        text, edition = text[: year.start()], f", edition {year[1]}"
    asks_most = MOST_ASKED.search(text) is not None
    text = MOST_ASKED.sub(" most ", text)
    text = WHICH_FITS.sub(" ", text)
    if (body := BODY.search(text)) is not None:
        return of_body(text, body, edition)
    place, rest, no_kind = wireway_in(text) or raceway_in(text) or ("", "", "")
    if not place:
        return None
    groups = groups_of(rest, asks_most)
    if groups is None:
        return None
    if not groups:
        raise AmpleroomError(f"which wires or cables? Write them too, such as: how many #12 thhn in {place}")
    return RacewayQuestion(f"{', '.join(groups)} in {place}{edition}", asks_most, no_kind)


def of_body(text: str, match: re.Match[str], edition: str) -> RacewayQuestion | None:
    """A question about a conduit body and what passes it, plainly; None where a word is not understood. Raises
    ``AmpleroomError`` where it names no trade size.
    """
    size = match["before"] or match["after"]
    groups = groups_of(f"{text[: match.start()]} , {text[match.end() :]}", False)
    if not groups:
        return None
    if size not in TRADE_SIZES:
        raise AmpleroomError(f"which trade size? Write it too, such as: {match['body']} 2, {', '.join(groups)}")
    return RacewayQuestion(f"conduit body {match['body']} {size}, {', '.join(groups)}{edition}")


def spelled(typed: str) -> str:
    """In lower case, without marks that say nothing, and trade sizes in figures."""
    text = typed.lower().replace("”", '"').replace("″", '"').replace("’", "'").replace("×", "x")
    text = re.sub(r"[?!;]+|\.(?=\s|$)", " ", text.replace("\n", ", ")).replace("w/g", "wg").replace("w/", "with ")
    text = re.sub(r"\b(?:no\.?|number|nos\.?) ?#?(?=\d)", "#", text)
    text = re.sub(r"\((\d+)\)", r" \1 ", text)
    text = re.sub(r"(\d) (\d/\d)(?=[\s\"]*(?:in\b|inch\b|\"))", r"\1-\2", text)
    text = re.sub(rf"(?<![\w/-])(\d) ([1-7]/[248])(?= (?:{KIND})\b)", r"\1-\2", text)
    for letters, figure in IN_LETTERS:
        text = re.sub(rf"\b(?:{letters})(?:[ -]inch)?(?= (?:{KIND})\b)", figure, text)
    return " ".join(text.split())


def raceway_in(text: str) -> tuple[str, str, str] | None:
    """The raceway plainly, the rest of the question, and the name of it that several kinds share; None for none."""
    short = NIPPLE.search(text)
    if short is not None:
        text = " ".join(f"{text[: short.start()]}{text[short.end() :]}".split())
    found = [match for match in RACEWAY.finditer(text) if is_raceway(match)]
    sized = [match for match in found if match["before"] or match["after"]] or found
    if not sized:
        return None
    match = sized[0]
    kind = KINDS[match["kind"]]
    size = match["before"] or match["after"] or ""
    rest = f"{text[: match.start()]} , {text[match.end() :]}"
    shared = ""
    if kind in ASKED_RACEWAYS and not size:
        shared, kind = ASKED_RACEWAYS[kind][0], ASKED_RACEWAYS[kind][1][0]
    place = " ".join(filter(None, (kind, size)))
    if short is not None:
        place += f" {short['many']} {short['unit'].rstrip('.')}"
    elif match["nipple"] or match["nipple_before"] or re.search(r"\bnipple\b", rest):
        rest = re.sub(r"\bnipple\b", " ", rest)
        place += " nipple"
    elif match["many"]:
        place += f" {match['many']} {match['unit'].rstrip('.')}"
    return place, rest, shared


def is_raceway(match: re.Match[str]) -> bool:
    """Whether the figures beside a kind of raceway are trade sizes."""
    return all(size in (None, *TRADE_SIZES) for size in (match["before"], match["after"]))


def wireway_in(text: str) -> tuple[str, str, str] | None:
    """The wireway plainly, and the rest of the question; None for none."""
    match = WIREWAY.search(text)
    if match is None:
        return None
    side, other = match["side"] or match["side_after"], match["other"] or match["other_after"]
    rest = f"{text[: match.start()]} , {text[match.end() :]}"
    return f"{match['form']}{f' {side} x {other}' if side else ''}", rest, ""


def groups_of(rest: str, asks_most: bool) -> list[str] | None:
    """What lies in the raceway, each group plainly, that of which the most is asked first; None where a word is not
    understood.
    """
    rest = re.sub(r"\b(\d+) ?%(?: fill)?", " ", rest)
    rest = re.sub(r"(#?\d[^,]*?) x (\d+)(?= *(?:,|$))", r"\2 x \1", rest)
    rest = re.sub(r"(?<![\d/#-])(\d+) ?x ?(?=[#\d])", r"\1 x ", rest)
    rest = re.sub(r"(?<=\d) ?- ?(?=#)", " x ", rest)
    # a new group begins where a count stands before a size
    rest = re.sub(r"(?<=[a-z)]) (?=(?:\d+|a|an|one|two|three|four) (?:x )?#)", " , ", rest)
    groups: list[str] = []
    first: list[str] = []
    for part in re.split(r",|&|\+|\band\b|\bplus\b|\bwith\b", rest):
        words = [word for word in part.split() if word not in IDLE]
        is_most = "most" in words
        words = [word for word in words if word != "most"]
        if not words or words in (["a"], ["an"], ["one"]):
            if is_most:
                first = [""]
            continue
        group = group_of(words, asks_most and (is_most or first == [""] or not groups))
        if group is None:
            return None
        if is_most or first == [""]:
            first = [group]
        else:
            groups.append(group)
    return [*filter(None, first), *groups]


def group_of(words: list[str], is_most: bool) -> str | None:
    """One group plainly: ``3 x #8 thhn``, ``ground #10``, ``2 x 12/2 nm-b``; None where a word is not understood."""
    count, sizes, kinds = "", [], []
    is_ground = is_bare = is_aluminum = False
    cable = ""
    for at, word in enumerate(words):
        size = size_in(word)
        figure = COUNTS.get(word, word)
        if made_up := CABLE.fullmatch(word):
            cable = "/".join(filter(None, made_up.groups()))
        elif TRIPLEX.fullmatch(word):
            sizes = [size_in(each) for each in word.split("-")]
            count = count or "1"
        elif figure.isdigit() and not sizes and not count and is_count(words, at):
            count = figure
        elif size and not sizes:
            sizes = [size]
        elif word in ("x", "kcmil", "mcm"):
            pass
        elif word in GROUNDS:
            is_ground = True
        elif word == "bare":
            is_bare = True
        elif word in ALUMINUM:
            is_aluminum = True
        elif word in INSULATIONS or word in CABLES or word == "compact":
            kinds.append(CABLES.get(word, word))
        elif word in CABLE_KINDS:
            kinds.append(CABLE_KINDS[word])
        elif word not in COLORS:
            return None
    metal = ["aluminum"] * is_aluminum
    if cable:
        return " ".join([*([f"{count} x"] if count else []), cable, *kinds, *metal]) if not sizes else None
    if not sizes or "" in sizes:
        return None
    several = count if count not in ("", "1") else ""
    if is_ground:
        words = [f"{several} x ground" if several else "ground", f"#{sizes[0]}", *kinds, *(["bare"] * is_bare)]
        return " ".join(words)
    alike = {each: sizes.count(each) for each in sizes}
    if not count and not is_most and not any(word.startswith("#") for word in words):
        return None  # '12 thhn': how many is not said
    return ", ".join(
        " ".join([f"{int(count or 1) * many} x #{each}", *kinds, *(["bare"] * is_bare), *metal])
        for each, many in alike.items()
    )


def is_count(words: list[str], at: int) -> bool:
    """Whether a figure counts what stands after it."""
    after = words[at + 1 :]
    return any(size_in(word) or word == "x" or CABLE.fullmatch(word) or TRIPLEX.fullmatch(word) for word in after[:2])


def size_in(word: str) -> str:
    """``#12``, ``12s``, ``12's``, ``4/0``, ``500`` as a size of conductor; empty for any other word."""
    plain = re.sub(r"'?s$|awg$|ga$|kcmil$|mcm$", "", word).removeprefix("#")
    if not plain or not plain[0].isdigit():
        return ""
    found = size_word(plain)
    return "" if found in (None, UNKNOWN) or str(found) not in SIZES else str(found)


__all__ = ["RacewayQuestion", "plain_question"]
