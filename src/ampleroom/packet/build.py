"""Setting the packet with typst: fonts from this folder, data as JSON, nothing from the network or the machine."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal

from ampleroom.errors import AmpleroomError
from ampleroom.packet.cards import Card, Photos, cards_of, photo_file
from ampleroom.packet.data import fingerprint, packet_data
from ampleroom.packet.glyphs import FONTS, breakable, displayable
from ampleroom.packet.qr import qr_svg
from ampleroom.pictures.drawing import shortened, text_width, wrapped
from ampleroom.remedy.plan import Plan
from ampleroom.remedy.takeoff import Takeoff
from ampleroom.report import Report
from ampleroom.words import all_printed

HERE = Path(__file__).parent

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
    progress: Callable[[str], None] = lambda text: None,
) -> bytes:
    """The packet as a tagged PDF (PDF/UA-1). The same input gives the same bytes."""
    for name in boxes:
        report.subject(name)  # a name that is not there is told with the nearest
    progress("laying out the cards")
    data = packet_data(report, plan=plan, takeoff=takeoff, photos=photos, only_failing=only_failing, boxes=boxes)
    data["paper"] = paper
    pictures = taken_out(data)
    for subject in report.subjects:
        shots = (photos or {}).get(subject.name, [])
        pictures |= {photo_file(subject.name, place, photo): photo for place, photo in enumerate(shots)}
    progress("setting the pages")
    return set_pages("packet.typ", data, pictures)


def taken_out(data: dict[str, Any]) -> dict[str, bytes]:
    """The pictures of the cards as files of their own, each named in the data in place of its drawing."""
    files: dict[str, bytes] = {}
    for card in data["cards"]:
        for block in card["blocks"]:
            for picture in (picture for row in block.get("rows", ()) for picture in row):
                name = f"picture-{len(files)}.svg"
                files[name] = displayable(picture.pop("svg")).encode("utf-8")
                picture["file"] = name
    return files


LABEL_WIDE = 92.0
"""Room for the words of a label beside its code, in points."""


WITHOUT_LABEL = ("circuit",)
"""Kinds of which there is nothing to stick a label on."""


def labels(report: Report, *, paper: Paper = "us-letter", boxes: tuple[str, ...] = ()) -> bytes:
    """Small labels, one a box, each with the code of its card and a square code that says the same."""
    for name in boxes:
        report.subject(name)
    mark = fingerprint(report.job)
    job = report.job.title or report.job.file or "Job"
    wanted = {name.casefold() for name in boxes}
    rows = []
    files: dict[str, bytes] = {}
    for card in cards_of(report, {}):
        if card.kind in WITHOUT_LABEL or (wanted and card.subject.casefold() not in wanted):
            continue
        says = f"{job[:60]}; card {card.code}; {card.kind} {card.subject[:60]}; {card.verdict.word}; sheet {mark}"
        code = qr_svg(says)
        if code:
            files[f"{card.code}.svg"] = code.encode("utf-8")
        rows.append({"qr": f"{card.code}.svg" if code else "", "says": says, **label_words(card, job)})
    data = {"title": f"Labels, {job}", "fingerprint": mark, "paper": paper, "labels": rows}
    return set_pages("labels.typ", data, files)


def label_words(card: Card, job: str) -> dict[str, Any]:
    """What a label says, cut to what it has room for; a long name is set smaller before it is cut."""
    subject = displayable(card.subject)
    size = next((size for size in (13.0, 11.0, 9.0) if text_width(subject, size, True) <= LABEL_WIDE), 9.0)
    return {
        "code": card.code,
        "subject": shortened(subject, LABEL_WIDE, size, True),
        "size": size,
        "lines": [
            *wrapped(displayable(card.title), LABEL_WIDE, 6.5, most=2),
            *wrapped(displayable(job), LABEL_WIDE, 6.5, most=1),
        ],
        "shape": card.verdict.shape,
        "verdict": card.verdict.word,
    }


def set_pages(template: str, data: dict[str, Any], pictures: dict[str, bytes]) -> bytes:
    """A template with its data and pictures as a PDF."""
    try:
        import typst
    except ImportError:
        raise AmpleroomError(
            "the packet needs typst: ./run packet brings it, or pip install 'ampleroom[packet]'"
        ) from None
    compile_pages: Any = typst.compile  # its type stubs do not know files handed over in memory
    text = json.dumps(breakable(all_printed(data)), ensure_ascii=False)
    files = {"main": (HERE / template).read_bytes(), "data.json": text.encode("utf-8"), **pictures}
    how = {"font_paths": [str(FONTS)], "ignore_system_fonts": True, "timestamp": 0, "pdf_standards": ["ua-1"]}
    try:
        if all(name.endswith(".svg") for name in pictures):
            pdf = compile_pages(files, **how)
        else:
            pdf = from_folder(files, compile_pages, how)
    except (MemoryError, KeyboardInterrupt, SystemExit):
        raise
    except BaseException as error:  # typst's own error type differs between its builds, and its panic is no Exception
        raise AmpleroomError(f"the pages could not be set: {error}") from error
    assert isinstance(pdf, bytes)
    return pdf


def from_folder(files: dict[str, bytes], compile_pages: Any, how: dict[str, Any]) -> Any:
    """By way of a folder that is gone afterwards: what is handed over in memory has to be text, and a photograph is
    none.
    """
    with TemporaryDirectory(prefix="ampleroom-") as name:
        for file, content in files.items():
            (Path(name) / file).write_bytes(content)
        return compile_pages(str(Path(name) / "main"), root=name, **how)
