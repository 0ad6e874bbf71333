"""Damages good job sheets at random and sees that nothing but a clear answer ever comes of it.

    python scripts/fuzz_sheets.py SEED NUMBER        so many damaged sheets
    python scripts/fuzz_sheets.py SEED --only 4711   one of them again, printed with what became of it
    python scripts/fuzz_sheets.py SEED NUMBER --kind raceways    those of raceways, pull boxes and wireways alone
    python scripts/fuzz_sheets.py SEED NUMBER --kind toml        stock files and amendments instead
    python scripts/fuzz_sheets.py SEED NUMBER --kind workbook    workbooks and CSV files instead

Each damaged sheet is read, checked by an edition chosen at random, and written as text and as JSON; what could be read
is written as a sheet and read again. An exception other than AmpleroomError, a job that does not survive being written
and read, or more than five seconds for one sheet is a failure. Exit status 1 if there was one.
"""

from __future__ import annotations

import argparse
import io
import json
import random
import re
import signal
import sys
import time
import traceback
import zipfile
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from ampleroom.check import check
from ampleroom.cli import faults_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_report, write_subject
from ampleroom.editions import OFFERED
from ampleroom.errors import AmpleroomError, SheetFaults
from ampleroom.fits import fits
from ampleroom.job import Job, Sheet, read_sheet, sheet_from_bytes, write_job
from ampleroom.job.lines import ON_THEIR_OWN, STATEMENTS, UNDER_A_BOX
from ampleroom.remedy import stock_from_text
from ampleroom.report import Report

ROOT = Path(__file__).resolve().parent.parent
GOOD = ROOT / "tests" / "jobs" / "good"
SECONDS = 5
AMENDMENTS = 'place = "Cold Harbor"\n[[box_fill.grounds]]\nfrom = 2020\ncovered = 2\n'

WORDS = (
    *sorted({word for statement in STATEMENTS for word in statement.words}),
    *("?", ">", ",", "x", "at", "for", "in", "on", "through", "loop", "landed", "circuit", "ground", "isolated", "no",
        "class"),
    *("#12", "#14", "#?", "#13", "12/2", "14/3", "?/2", "nm-b", "mc", "ac", "old", "thhn", "250", "kcmil", "1/0",
        "#4/0"),
    *("3x", "2 x", "0 x", "? x", "4-11/16", "3 1/2 in", "1½", "½in", "2 gangs", "2-gang", "1/3", "20.3 in3", "300 cm3",
        "4 x ?"),
    *("1900 box", "4 square", "4sq deep", "handy", "GFI", "duplex", "3 way", "sp switch", "mud ring 5/8",
        "nail-on 20.3", "LB", "old work"),
    *("to", "-", "→", "homerun", "w/g", "12-2", "K&T", "SEU 2-2-4", "2-2-2-4 SER", "18/5 thermostat", "cat6", "3/4 EMT",
        "3ph", "225A"),
    *("metal", "plastic", "inside", "tabs", "assembly", "+", "ganged", "deep", "rear", "J1", "S1/left", "P", "nobody"),
    *("entry", "apart", "left", "top", "row", "raceway", "emt", "pvc-40", "bends", "90", "sleeve", "underground",
        "wide", "compact", "xhhw-2", "B6a", "B6d", "A1"),
)  # fmt: skip
NUMBERS = (
    "0",
    "-1",
    "1",
    "00",
    "1e9",
    "9" * 9,
    "9" * 30,
    "9" * 5000,
    "0.0000001",
    "1/0",
    "0/5",
    "1-5/4",
    ".5",
    "½",
    "٣",
    "²",
    "∞",
    "NaN",
)
LETTERS = (
    "\x00",
    "\x07",
    "\x0b",
    "\x1b[31m",
    "\x1c",
    "\x7f",
    "\x85",
    "\xa0",
    "\u200b",
    "\u2028",
    "\u202e",
    "\ufeff",
    "\ufffd",
)
MORE_LETTERS = (
    "é",
    "Ł",
    "ß",
    "İ",
    "水",
    "🔌",
    "\U0010ffff",
    "\r",
    "\r\n",
    "\n",
    "\t",
    "#",
    "# ",
    "/",
    "'",
    '"',
    "×",
    "\\",
)
LONG = (("x", 10_000), ("J1>", 3_000), ("#12,", 3_000), ("1/", 4_000), ("9", 4_301), ("é", 5_000), ("3 x ", 2_000))
SIZE = re.compile(r"#\S+|(14|12|10|\?)[/-]\d")
QUANTITY = re.compile(r"#?\d[\d./#-]*")
BASES = (
    "square",
    "octagon",
    "device",
    "utility",
    "marked",
    "masonry",
    "fs",
    "fd",
    "inside",
    "conduit",
    "unmarked",
    "barrier",
    "space",
    "mounted",
)
SIZES = ("#18", "#16", "#14", "#12", "#10", "#8", "#6", "#4", "#1/0", "#?")
CABLES = ("14/2", "14/3", "12/2", "12-3", "10/2", "10/3", "6/3", "14/2/2", "?/2", "?/3", "2/3")


@cache
def good_sheets() -> tuple[str, ...]:
    """The sheets that are damaged: the good ones of the tests, the starter, the frozen raceways, pull boxes and
    wireways, and one made of every line's example.
    """
    found = [path.read_text("utf-8") for path in sorted(GOOD.glob("*.job"))]
    found.append((ROOT / "src" / "ampleroom" / "job" / "starter.job").read_text("utf-8"))
    found += sheets_of_raceways()
    alone = "\n".join(statement.example for statement in ON_THEIR_OWN)
    divided = {"barrier": "\n  space left 1/2\n  space right 1/2", "space": "\n  barrier plastic\n  space right 1 gang"}
    under = "\n".join(
        f"box X{n}\n  {statement.example}{divided.get(statement.words[0], '')}"
        for n, statement in enumerate(UNDER_A_BOX)
    )
    return (*found, f"{alone}\nraceway R2 P > J9 emt 1\nbox J9\n{under}\n")


@cache
def sheets_of_raceways() -> tuple[str, ...]:
    """The frozen raceways, pull boxes and wireways."""
    files = (ROOT / "tests" / "snapshots" / f"{name}.job" for name in ("raceways", "wireways"))
    return tuple(path.read_text("utf-8") for path in files)


@cache
def small_sheets_of_raceways() -> tuple[str, ...]:
    """Random raceways, pull boxes and wireways, one a sheet; half of them have unknown facts."""
    sys.path.insert(0, str(ROOT))
    from tests.random_raceways import random_pull_box, random_raceway
    from tests.random_wireways import random_wireway

    makers = (random_raceway, random_pull_box, random_wireway)
    dice = random.Random("raceways")
    return tuple(make(dice, unknowns=number % 2 == 1) for number in range(100) for make in makers)


# ---- damages: each takes a text and a source of chance, and returns another text -------------------------------------

Damage = Callable[[str, random.Random], str]


def change_lines(text: str, chance: random.Random) -> str:
    """A line left out, doubled, moved, joined to the next one, or brought in from another sheet."""
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    match chance.randrange(5):
        case 0:
            del lines[at]
        case 1:
            lines[at:at] = [lines[at]] * chance.choice((1, 1, 2, 30))
        case 2:
            lines.insert(chance.randrange(len(lines)), lines.pop(at))
        case 3:
            lines[at : at + 2] = [" ".join(lines[at : at + 2])]
        case _:
            lines.insert(at, chance.choice(chance.choice(good_sheets()).split("\n")))
    return "\n".join(lines)


def change_words(text: str, chance: random.Random) -> str:
    """In one line a word left out, doubled, swapped with the next, put in, or another in its place."""
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    words = lines[at].split(" ")
    here = chance.randrange(len(words))
    match chance.randrange(6):
        case 0:
            del words[here]
        case 1:
            words.insert(here, words[here])
        case 2:
            words[here : here + 2] = words[here : here + 2][::-1]
        case 3:
            words.insert(here, chance.choice(WORDS))
        case 4:
            words[here] = chance.choice(WORDS)
        case _:
            words[here] = chance.choice(NUMBERS)
    lines[at] = " ".join(words)
    return "\n".join(lines)


def change_letters(text: str, chance: random.Random) -> str:
    """A letter left out, doubled, swapped with the next, turned over, or a strange one put in."""
    at = chance.randrange(len(text) + 1)
    before, here, after = text[:at], text[at : at + 1], text[at + 1 :]
    match chance.randrange(5):
        case 0:
            return before + after
        case 1:
            return before + here * 2 + after
        case 2:
            return before + after[:1] + here + after[1:]
        case 3:
            return before + here.swapcase() + after
        case _:
            return before + chance.choice(LETTERS + MORE_LETTERS) + here + after


def change_number(text: str, chance: random.Random) -> str:
    """A digit becomes a number nobody expects."""
    digits = [at for at, letter in enumerate(text) if letter.isdigit()]
    if not digits:
        return text
    at = chance.choice(digits)
    return text[:at] + chance.choice(NUMBERS) + text[at + 1 :]


def make_long(text: str, chance: random.Random) -> str:
    """A very long word or line."""
    word, times = chance.choice(LONG)
    at = chance.randrange(len(text) + 1)
    return text[:at] + chance.choice((" ", "")) + word * times + chance.choice((" ", "")) + text[at:]


def new_line_ends(text: str, chance: random.Random) -> str:
    return text.replace("\n", chance.choice(("\r\n", "\r", "\n\n", " \n", "\x0b", "\n\t")))


def cut(text: str, chance: random.Random) -> str:
    at = chance.randrange(len(text) + 1)
    return chance.choice((text[:at], text[at:]))


def mix_boxes(text: str, chance: random.Random) -> str:
    """Lines that stand under boxes, put under other boxes: most of it can be read, and makes boxes nobody has seen."""
    lines = text.split("\n")
    heads = [at for at, line in enumerate(lines) if line.startswith("box")]
    under = [line for sheet in good_sheets() for line in sheet.split("\n") if line.startswith("  ")]
    if chance.random() < 0.9:  # a second line on what the box is would be a fault
        under = [line for line in under if not line.strip().startswith(BASES)]
    for _ in range(chance.choice((1, 2, 5))):
        if heads:
            lines[chance.choice(heads)] += "\n" + chance.choice(under)
    return "\n".join(lines)


def unknown_all(text: str, chance: random.Random) -> str:
    """``?`` in the place of some numbers, or of some words: every fact may be unknown."""
    words = text.split(" ")
    facts = [at for at, word in enumerate(words) if word and (QUANTITY.fullmatch(word) or chance.random() < 0.01)]
    for _ in range(chance.choice((1, 2, 5))):
        if facts:
            at = chance.choice(facts)
            words[at] = words[at].replace(words[at].split("/")[0].strip("#"), "?", 1)
    return " ".join(words)


def other_size(text: str, chance: random.Random) -> str:
    """One conductor size, count or cable in the place of another that is just as good."""
    words = text.split(" ")
    sizes = [at for at, word in enumerate(words) if SIZE.fullmatch(word)]
    for _ in range(chance.choice((1, 3, 10))):
        if sizes:
            at = chance.choice(sizes)
            words[at] = chance.choice(CABLES if "/" in words[at] else SIZES)
    return " ".join(words)


GENTLE: tuple[tuple[Damage, int], ...] = ((mix_boxes, 3), (unknown_all, 3), (other_size, 2))
DAMAGES: tuple[tuple[Damage, int], ...] = (
    (change_lines, 20), (change_words, 40), (change_letters, 20), (change_number, 10), (unknown_all, 6),
    (mix_boxes, 10), (make_long, 2), (new_line_ends, 1), (cut, 3),
)  # fmt: skip


def damaged(seed: str, index: int, kind: str = "sheet") -> tuple[str, random.Random]:
    """The sheet of that number, and the chance that goes on from there."""
    chance = random.Random(f"{seed}:{index}")
    text = chance.choice(small_sheets_of_raceways() if kind == "raceways" else good_sheets())
    if chance.random() < 0.05:
        text += chance.choice(good_sheets())
    ways, weights = zip(*(GENTLE if chance.random() < 0.4 else DAMAGES), strict=True)
    for _ in range(chance.choice((1, 1, 1, 1, 1, 2, 2, 2, 3, 4, 6, 10, 25))):
        text = chance.choices(ways, weights)[0](text or " ", chance)
    return text, chance


# ---- what is done with it -------------------------------------------------------------------------------------------


def outcome(text: str, chance: random.Random) -> str:
    """Read, check and write it all; a word on what it came to. Raises what nobody should ever see."""
    edition = chance.choice((None, *OFFERED))
    width = chance.choice((40, 60, 100))
    data = text.encode("utf-8", "surrogatepass")
    if chance.random() < 0.03 and data:
        at = chance.randrange(len(data))
        data = data[:at] + bytes([chance.randrange(256)]) + data[at + 1 :]
    try:
        job = read_sheet(sheet_from_bytes(data, "damaged.job"), lambda name: AMENDMENTS)
    except SheetFaults as trouble:
        faults_are_told(trouble)
        return "faults"
    except AmpleroomError:
        return "no sheet"
    survives(job)
    try:
        report = check(job, edition)
    except AmpleroomError:
        return "no edition"
    is_written(report, width)
    if job.boxes and chance.random() < 0.05:
        box = chance.choice(job.boxes)
        try:
            fits(job, box.name, report.book, ("12/2 nm-b", "1 x #10 thhn"))
        except AmpleroomError:
            return "checked; a barrier divides the box"
    return "checked"


def faults_are_told(trouble: SheetFaults) -> None:
    """Each fault has a place and a message, and all of them can be written."""
    json.dumps(faults_json(trouble), ensure_ascii=False).encode()
    assert trouble.faults, "no fault is told"
    for fault in trouble.faults:
        assert fault.text.encode()
        assert fault.message
        assert fault.line >= 1
        assert 1 <= fault.column < fault.end, f"columns {fault.column} to {fault.end}"


def is_written(report: Report, width: int) -> None:
    """The whole report and every worksheet as text within the width, and as JSON."""
    paper = io.StringIO()
    write_report(report, Paper(paper, width, color=False))
    for box in report.subjects:
        write_subject(box, report, Paper(paper, width, color=False))
    json.dumps(report.to_json(), ensure_ascii=False, allow_nan=False).encode()
    said = paper.getvalue()
    assert said.encode()
    assert all(letter.isprintable() or letter == "\n" for letter in said), "a control character is printed"
    assert all(len(line) <= width for line in said.split("\n")), "a line is wider than the paper"


def survives(job: Job) -> None:
    """A job is the same after it was written as a sheet and read again."""
    again = read_sheet(Sheet(write_job(job), "written"), lambda name: AMENDMENTS)
    assert again == job, "the job written and read again is another one"


# ---- other files somebody else wrote ---------------------------------------------------------------------------------

TOML_PIECES = (
    "nan", "-inf", "1e999999", "1e-999999", "-1", "0x" + "f" * 90, "9" * 5000, "true", "1979-05-27", "[]", "{}", "[[",
    "]]", "=", '"""', "'''", "\\", "[" * 3000, "{a=" * 3000, "a." * 3000, "x" * 20_000, "'" * 3001, '"17"', "\x00",
    "\x0b", "\u2028", "\r", "\ufeff", "[[box]]", "[labor]", "[box_fill.grounds]", "[[box_fill.grounds]]",
    "[[box_fill]]", "from = true", "cite = 5", "place = 3", "rows = 3", '["a"]', "rows = { 17 = 2.0 }", "source = []",
    'from = "2020"', "price = nan", 'is = ""', "name = []", "on = 4", "largest = 12", "hole = 9",
)  # fmt: skip
AMENDED = AMENDMENTS + (
    'source = "Ordinance 12-4"\ncite = "x"\n[[box_fill.conductor_room]]\nfrom = 2020\nrows = { 14 = 2.5, 12 = 2.75 }\n'
)


@cache
def good_toml() -> tuple[tuple[str, str], ...]:
    """What each is read as, and its text."""
    stock = (ROOT / "examples" / "stock.toml").read_text("utf-8")
    return ("stock", stock), ("stock", stock[: len(stock) // 8]), ("amendments", AMENDMENTS), ("amendments", AMENDED)


def damaged_toml(seed: str, index: int) -> tuple[str, str]:
    chance = random.Random(f"{seed}:toml:{index}")
    kind, text = chance.choice(good_toml())
    for _ in range(chance.choice((1, 1, 2, 3, 8))):
        if chance.random() < 0.4:
            text = chance.choice((change_lines, change_words, change_letters, change_number, cut))(text or " ", chance)
            continue
        at = chance.randrange(len(text) + 1)
        piece = chance.choice(TOML_PIECES)
        values = [found.span() for found in re.finditer(r"(?<== )[^\n]+", text)]
        if values and chance.random() < 0.6:
            first, last = chance.choice(values)
            text = text[:first] + piece + text[last:]
        else:
            text = text[:at] + chance.choice(("", "\n")) + piece + chance.choice(("", "\n")) + text[at:]
    return kind, text


AMENDED_SHEET = (
    "edition 2023\namendments a.toml\nbox J1\n  square 4 x 1-1/2\n  clamps inside\nrun J1 > ? 4 x 12/2 nm-b\n"
)


def toml_outcome(kind: str, text: str) -> str:
    """Read one, and judge by it if it could be read."""
    try:
        if kind == "stock":
            stock_from_text(text)
        else:
            is_written(check(read_sheet(Sheet(AMENDED_SHEET, "a.job"), lambda name: text)), 60)
    except SheetFaults as trouble:
        faults_are_told(trouble)
        return "faults"
    except AmpleroomError:
        return "refused"
    return "read"


@cache
def good_workbooks() -> tuple[tuple[str, bytes], ...]:
    from ampleroom.sheets.writing import results_csv, workbook

    job = read_sheet(Sheet(PLAIN, "a.job"))
    report = check(job)
    return ("a.xlsx", workbook(job, report)), ("a.xlsx", workbook()), ("boxes.csv", results_csv(report).encode())


PLAIN = AMENDED_SHEET.replace("amendments a.toml\n", "")


def damaged_workbook(seed: str, index: int) -> tuple[str, bytes]:
    """A workbook with some bytes changed: in its zip file, or in one of the files in it, packed again."""
    chance = random.Random(f"{seed}:workbook:{index}")
    name, data = chance.choice(good_workbooks())
    if name == "a.xlsx" and chance.random() < 0.7:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            files = {member: archive.read(member) for member in archive.namelist()}
        for _ in range(chance.choice((1, 1, 3))):
            member = chance.choice([*files])
            files[member] = other_bytes(files[member], chance)
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            for member, content in files.items():
                archive.writestr(member, content)
        return name, out.getvalue()
    return chance.choice((name, name, "a.xls", "a.ods")), other_bytes(data, chance)


def other_bytes(data: bytes, chance: random.Random) -> bytes:
    for _ in range(chance.choice((1, 2, 10))):
        at = chance.randrange(len(data) + 1)
        match chance.randrange(4):
            case 0:
                data = data[:at] + bytes([chance.randrange(256)]) + data[at + 1 :]
            case 1:
                data = data[:at] + data[at + chance.randrange(1, 200) :]
            case 2:
                data = re.sub(
                    rb"\d+", lambda _: chance.choice((b"-1", b"4294967295", b"99999999", b"0")), data, count=at % 50
                )
            case _:
                data = data[:at]
    return data


def workbook_outcome(name: str, data: bytes) -> str:
    """Read one as the command line does: the library that reads it may end its process, never this one."""
    from ampleroom.sheets.bounded import TooMuch, read_bounded

    try:
        with TemporaryDirectory() as folder:
            path = Path(folder) / name
            path.write_bytes(data)
            read_bounded([path], {})
    except TooMuch:
        return "ended its process"
    except SheetFaults:
        return "faults"
    except AmpleroomError:
        return "refused"
    return "read"


@dataclass(frozen=True)
class Failure:
    index: int
    text: str
    trouble: str


def trial(seed: str, index: int, kind: str = "sheet") -> tuple[str, Failure | None]:
    """One damaged sheet, or file of another kind: what it came to, and the failure if it was one."""
    run, text = prepared(seed, index, kind)
    try:
        with at_most(SECONDS):
            return run(), None
    except (KeyboardInterrupt, SystemExit):
        raise
    except BaseException:  # a library's panic is no Exception
        return "FAILED", Failure(index, text, traceback.format_exc(limit=-4))


def prepared(seed: str, index: int, kind: str) -> tuple[Callable[[], str], str]:
    """What is to be done with the damaged file of that number, and the file as it can be shown."""
    if kind == "toml":
        sort, text = damaged_toml(seed, index)
        return lambda: toml_outcome(sort, text), text
    if kind == "workbook":
        name, data = damaged_workbook(seed, index)
        return lambda: workbook_outcome(name, data), f"{name}, {len(data)} bytes"
    text, chance = damaged(seed, index, kind)
    return lambda: outcome(text, chance), text


@contextmanager
def at_most(seconds: float) -> Iterator[None]:
    """Stops what takes longer, counted in the processor's time of this process: the machine may have other work."""

    def stop(*_: object) -> None:
        raise TimeoutError(f"took over {seconds} s")

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def fuzz(
    seed: str, number: int, first: int = 0, tell: Callable[[str], None] = lambda line: None, kind: str = "sheet"
) -> tuple[Counter[str], list[Failure]]:
    """So many damaged sheets: how often what came of them, and the failures."""
    counts: Counter[str] = Counter()
    failures: list[Failure] = []
    longest, slowest = 0.0, first
    for index in range(first, first + number):
        before = time.process_time()
        came_to, failure = trial(seed, index, kind)
        if (took := time.process_time() - before) > longest:
            longest, slowest = took, index
        counts[came_to] += 1
        if failure is not None:
            failures.append(failure)
            tell(told(failure))
        if (index + 1 - first) % 5000 == 0 or index + 1 == first + number:
            tell(f"{index + 1 - first} sheets: {dict(counts)}; the longest, {slowest}, took {longest:.2f} s")
    return counts, failures


def told(failure: Failure) -> str:
    text = failure.text if len(failure.text) < 4000 else failure.text[:4000] + " ... (cut here)"
    return f"==== sheet {failure.index}\n{text}\n---- came to\n{failure.trouble}"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("seed")
    parser.add_argument("number", type=int, nargs="?", default=1000)
    parser.add_argument("--first", type=int, default=0, metavar="INDEX")
    parser.add_argument("--kind", choices=("sheet", "raceways", "toml", "workbook"), default="sheet")
    parser.add_argument("--only", type=int, metavar="INDEX")
    options = parser.parse_args()
    if options.only is not None:
        _, text = prepared(options.seed, options.only, options.kind)
        came_to, failure = trial(options.seed, options.only, options.kind)
        print(told(failure) if failure else f"{text}\n---- came to: {came_to}")
        return int(failure is not None)
    start = time.perf_counter()
    counts, failures = fuzz(
        options.seed, options.number, options.first, lambda line: print(line, flush=True), options.kind
    )
    print(
        f"{options.number} sheets, seed {options.seed}: {dict(counts)}, {len(failures)} failures, "
        f"{time.perf_counter() - start:.0f} s"
    )
    return int(bool(failures))


if __name__ == "__main__":
    sys.exit(main())
