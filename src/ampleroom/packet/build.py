"""Setting the packet with typst: fonts from this folder, data as JSON, nothing from the network or the machine."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, Literal

from ampleroom.errors import AmpleroomError
from ampleroom.packet.cards import Photos, photo_file
from ampleroom.packet.data import cards_of, fingerprint, packet_data
from ampleroom.packet.qr import qr_svg
from ampleroom.remedy.plan import Plan
from ampleroom.remedy.takeoff import Takeoff
from ampleroom.report import Report

HERE = Path(__file__).parent
FONTS = HERE / "fonts"

Paper = Literal["us-letter", "a4"]
PAPERS: tuple[Paper, ...] = ("us-letter", "a4")


def packet(
    report: Report,
    *,
    paper: Paper = "us-letter",
    plan: Plan | None = None,
    takeoff: Takeoff | None = None,
    photos: Photos | None = None,
    only_failing: bool = False,
    boxes: tuple[str, ...] = (),
    tell: Callable[[str], None] = lambda text: None,
) -> bytes:
    """The packet as a tagged PDF (PDF/UA-1). The same input gives the same bytes."""
    for name in boxes:
        report.box(name)  # a name that is not there is told with the nearest
    tell("laying out the cards")
    data = packet_data(report, plan=plan, takeoff=takeoff, photos=photos, only_failing=only_failing, boxes=boxes)
    data["paper"] = paper
    pictures = taken_out(data)
    for name, found in (photos or {}).items():
        pictures |= {photo_file(name, place): photo for place, photo in enumerate(found)}
    tell("counting the pages")
    data["pages"] = "?"
    data["pages"] = str(pages_in(set_pages("packet.typ", data, pictures, quick=True)))
    tell("setting the pages")
    return set_pages("packet.typ", data, pictures)


def pages_in(pdf: bytes) -> int:
    """How many pages a PDF of ours has."""
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


def taken_out(data: dict[str, Any]) -> dict[str, bytes]:
    """The pictures of the cards as files of their own, each named in the data in place of its drawing."""
    files: dict[str, bytes] = {}
    for card in data["cards"]:
        for block in card["blocks"]:
            for picture in block.get("pictures", ()):
                name = f"picture-{len(files)}.svg"
                files[name] = displayable(picture.pop("svg")).encode("utf-8")
                picture["file"] = name
    return files


def labels(report: Report, *, paper: Paper = "us-letter", boxes: tuple[str, ...] = ()) -> bytes:
    """Small labels, one a box, each with the code of its card and a square code that says the same."""
    for name in boxes:
        report.box(name)
    mark = fingerprint(report.job)
    wanted = {name.casefold() for name in boxes}
    rows = []
    files: dict[str, bytes] = {}
    for card in cards_of(report, {}):
        if wanted and card.subject.casefold() not in wanted:
            continue
        says = f"{report.job.title or report.job.file}; card {card.code}; box {card.subject}; {card.verdict.word}; sheet {mark}"
        code = qr_svg(says)
        if code:
            files[f"{card.code}.svg"] = code.encode("utf-8")
        rows.append(
            {
                "code": card.code,
                "subject": card.subject,
                "title": card.title,
                "verdict": card.verdict.word,
                "qr": f"{card.code}.svg" if code else "",
                "says": says,
            }
        )
    data = {
        "title": f"Labels, {report.job.title or report.job.file}",
        "job": report.job.title or report.job.file,
        "fingerprint": mark,
        "paper": paper,
        "labels": rows,
    }
    return set_pages("labels.typ", data, files)


def set_pages(template: str, data: dict[str, Any], pictures: dict[str, bytes], quick: bool = False) -> bytes:
    """A template with its data and pictures as a PDF; everything is handed over in memory.

    ``quick``: without the standard's tags, only to see how many pages there are: counting them in the template itself would
    lay everything out several times.
    """
    try:
        import typst
    except ImportError:
        raise AmpleroomError(
            "the packet needs typst: ./run packet brings it, or pip install 'ampleroom[packet]'"
        ) from None
    compile_pages: Any = typst.compile  # its type stubs do not know files handed over in memory
    text = json.dumps(displayable(data), ensure_ascii=False)
    files = {"main": (HERE / template).read_bytes(), "data.json": text.encode("utf-8"), **pictures}
    try:
        how: dict[str, Any] = {"pdf_tags": False} if quick else {"pdf_standards": ["ua-1"]}
        pdf = compile_pages(files, font_paths=[str(FONTS)], ignore_system_fonts=True, timestamp=0, **how)
    except Exception as error:  # typst's own error type differs between its builds
        raise AmpleroomError(f"the pages could not be set: {error}") from error
    assert isinstance(pdf, bytes)
    return pdf


# ---- letters the fonts do not have ---------------------------------------------------------------------------------


@cache
def covered() -> frozenset[int]:
    """Every letter both fonts have."""
    found: set[int] = set()
    for line in (FONTS / "covered.txt").read_text("ascii").split():
        low, high = line.split("-")
        found.update(range(int(low, 16), int(high, 16) + 1))
    return frozenset(found)


def displayable(value: Any) -> Any:
    """The same data with letters no font here has as ``[4E00]``, and control and direction marks as a dot: a standard PDF must not
    hold what it cannot show.
    """
    if isinstance(value, str):
        return value if value.isascii() and value.isprintable() else "".join(map(letter_for, value))
    if isinstance(value, list | tuple):
        return [displayable(item) for item in value]
    if isinstance(value, dict):
        return {key: displayable(item) for key, item in value.items()}
    return value


def letter_for(letter: str) -> str:
    if letter in "\n":
        return " "
    if not letter.isprintable() and letter != "\N{NO-BREAK SPACE}":
        return "·"
    return letter if ord(letter) in covered() else f"[{ord(letter):04X}]"
