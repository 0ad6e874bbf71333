"""The packet as a file: its standard, its tags, the same bytes for the same sheet, pages of either paper."""

import base64
import hashlib
import re
import subprocess
import sys
import zlib

import pytest

from ampleroom.errors import AmpleroomError
from ampleroom.packet import build
from ampleroom.packet.glyphs import covered, displayable
from tests.cli.helpers import process_environment
from tests.packet.helpers import labels, need, packet, reader, report_of, studio, studio_packet, text_of
from tests.pictures.helpers import OVERFULL, ROOT

pytest.importorskip("typst")

JPEG = base64.b64decode(
    "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAFA3PEY8MlBGQUZaVVBfeMiCeG5uePWvuZHI////////////////////////////////"
    "////////////////////wAALCAACAAIBAREA/8QAHwAAAQUBAQEBAQEAAAAAAAAAAAECAwQFBgcICQoL/8QAtRAAAgEDAwIEAwUF"
    "BAQAAAF9AQIDAAQRBRIhMUEGE1FhByJxFDKBkaEII0KxwRVS0fAkM2JyggkKFhcYGRolJicoKSo0NTY3ODk6Q0RFRkdISUpTVFVW"
    "V1hZWmNkZWZnaGlqc3R1dnd4eXqDhIWGh4iJipKTlJWWl5iZmqKjpKWmp6ipqrKztLW2t7i5usLDxMXGx8jJytLT1NXW19jZ2uHi"
    "4+Tl5ufo6erx8vP09fb3+Pn6/9oACAEBAAA/ACv/2Q=="
)
"""Two by two gray pixels."""


def png(wide=2, high=2):
    """A small gray picture, by the format's own description."""

    def chunk(kind, data):
        return len(data).to_bytes(4, "big") + kind + data + zlib.crc32(kind + data).to_bytes(4, "big")

    head = wide.to_bytes(4, "big") + high.to_bytes(4, "big") + bytes((8, 0, 0, 0, 0))
    rows = (b"\0" + b"\x80" * wide) * high
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def test_the_packet_is_tagged_named_and_in_a_language_as_its_standard_asks():
    root = reader(studio_packet()).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"].startswith("en")
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/StructTreeRoot"]["/K"]
    assert b"<pdfuaid:part>1</pdfuaid:part>" in root["/Metadata"].get_data()


@pytest.mark.parametrize(
    ("page", "trouble"),
    [
        ('#set document(title: "t")\n#set text(lang: "en")\n#image("picture.svg")', "alt"),
        ('#set text(lang: "en")\nwords', "title"),
    ],
)
def test_pages_that_break_the_standard_are_refused_by_its_own_check(tmp_path, monkeypatch, page, trouble):
    (tmp_path / "page.typ").write_text(page)
    monkeypatch.setattr(build, "HERE", tmp_path)
    with pytest.raises(AmpleroomError, match=f"the pages could not be set: .*{trouble}"):
        build.set_pages(
            "page.typ", {}, {"picture.svg": b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'}
        )


def test_the_packet_has_its_title_and_no_date_and_nothing_that_runs():
    read = reader(studio_packet())
    assert read.metadata.title == "Boathouse studio, inspection packet"
    assert read.metadata.author == "Ampleroom"
    root = read.trailer["/Root"]
    assert not {"/OpenAction", "/AA", "/AcroForm"} & set(root)
    assert "/JavaScript" not in root.get("/Names", {})


def tags(pdf):
    """Every element of the tree that a screen reader follows."""
    found, stack = [], [reader(pdf).trailer["/Root"]["/StructTreeRoot"]]
    while stack:
        node = stack.pop().get_object()
        if isinstance(node, list):
            stack += node
        elif hasattr(node, "get"):
            if "/S" in node:
                found.append(node)
            if "/K" in node:
                stack.append(node["/K"])
    return found


def test_tables_have_heads_and_pictures_have_descriptions():
    found = tags(studio_packet())
    kinds = [str(node["/S"]) for node in found]
    assert {"/H1", "/H2", "/Table", "/TH", "/TD", "/Figure", "/L", "/P"} <= set(kinds)
    figures = [node for node in found if node["/S"] == "/Figure"]
    assert len(figures) == 36  # two a box (the pull box has its plan and no room), four raceways cut across, six trees
    assert all(len(str(node.get("/Alt", ""))) > 10 for node in figures)


def test_every_card_can_be_found_in_the_outline():
    names = [str(item["/Title"]) for item in flat(reader(studio_packet()).outline)]
    for place, box in enumerate(studio().of("box"), 1):
        assert any(name.startswith(f"B{place:03} · {box.name}") for name in names)
    assert any(name.startswith("S001 · R1") for name in names)


def flat(outline):
    for item in outline:
        if isinstance(item, list):
            yield from flat(item)
        else:
            yield item


def test_the_fonts_are_in_the_file():
    fonts = {}
    for page in reader(studio_packet()).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            fonts[str(font["/BaseFont"])] = font["/DescendantFonts"][0]["/FontDescriptor"]
    assert fonts
    for name, descriptor in fonts.items():
        assert "LiberationSans" in name
        assert {"/FontFile2", "/FontFile3"} & set(descriptor)


@pytest.mark.parametrize(("paper", "size"), [("us-letter", (612, 792)), ("a4", (595.28, 841.89))])
def test_pages_are_of_the_paper_that_was_asked_for(paper, size):
    for pdf in (packet(report_of(OVERFULL), paper=paper), labels(report_of(OVERFULL), paper=paper)):
        for page in reader(pdf).pages:
            assert [float(page.mediabox.width), float(page.mediabox.height)] == pytest.approx(size, abs=0.01)


def test_the_same_sheet_gives_the_same_bytes_in_another_process():
    script = (
        "import hashlib; from ampleroom import check; from ampleroom.job.reader import read_sheet\n"
        "from ampleroom.job.sheet import sheet_from_file; from pathlib import Path; from ampleroom.packet "
        "import packet, labels\nfound = check(read_sheet(sheet_from_file(Path('examples/studio.job'))))\n"
        "print(hashlib.sha256(packet(found) + labels(found)).hexdigest())"
    )
    hashes = {
        subprocess.run(
            [sys.executable, "-c", script],
            capture_output=True,
            check=True,
            cwd=ROOT,
            env=process_environment(PYTHONHASHSEED=seed),
            timeout=120,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(hashes) == 1


def test_nothing_of_the_page_runs_over_its_margins():
    """Words as another program finds them, with their frames, on every page."""
    box = subprocess.run(
        [need("pdftotext"), "-bbox", "-", "-"], input=studio_packet(), capture_output=True, check=True, timeout=60
    ).stdout.decode()
    frames = re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"', box)
    assert len(frames) > 2000
    for left, top, right, bottom in frames:
        assert float(left) >= 54 - 1
        assert float(right) <= 612 - 54 + 1
        assert float(top) > 20
        assert float(bottom) < 792 - 20


@pytest.mark.parametrize(("photo", "kind"), [(JPEG, "/DCTDecode"), (png(), "/FlateDecode")], ids=["JPEG", "PNG"])
def test_photographs_kept_with_a_box_are_on_its_card(photo, kind):
    found = report_of(OVERFULL)
    pdf = packet(found, photos={"A": [photo, photo]})
    images = [
        image.get_object()
        for page in reader(pdf).pages
        for image in page["/Resources"].get("/XObject", {}).values()
        if image.get_object()["/Subtype"] == "/Image"
    ]
    assert kind in {image["/Filter"] for image in images}
    assert "Photographs" in text_of(pdf)
    alts = [str(node["/Alt"]) for node in tags(pdf) if node["/S"] == "/Figure"]
    assert "Photograph 2 kept with this box" in alts


@pytest.mark.parametrize("photo", [b"", b"GIF89a", b"<svg/>", b"%PDF-1.7"])
def test_a_photograph_that_is_none_is_told(photo):
    with pytest.raises(AmpleroomError, match="photograph 1 of A is neither JPEG nor PNG"):
        packet(report_of(OVERFULL), photos={"A": [photo]})


def test_a_damaged_photograph_is_told():
    with pytest.raises(AmpleroomError, match="the pages could not be set"):
        packet(report_of(OVERFULL), photos={"A": [JPEG[:30]]})


def test_photographs_of_a_box_that_is_not_there_are_left_out():
    assert packet(report_of(OVERFULL), photos={"Z": [JPEG]}) == packet(report_of(OVERFULL))


def test_every_label_has_its_box_its_card_and_a_code_that_says_the_same():
    zxing = pytest.importorskip("zxingcpp")
    numpy = pytest.importorskip("numpy")
    pdf = labels(studio())
    gray = subprocess.run(
        [need("pdftoppm"), "-gray", "-r", "200", "-"], input=pdf, capture_output=True, check=True, timeout=60
    ).stdout
    wide, high = map(int, re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", gray).groups())  # type: ignore[union-attr]
    pixels = numpy.frombuffer(gray[-wide * high :], numpy.uint8).reshape(high, wide)
    said = {found.text for found in zxing.read_barcodes(pixels)}
    cards = [(f"B{place:03}; box", box) for place, box in enumerate(studio().of("box"), 1)]
    cards += [(f"S{place:03}; raceway", raceway) for place, raceway in enumerate(studio().of("raceway"), 1)]
    sheet = "sheet 0fb8-ba90-b7e3-9c4e"
    assert said == {f"Boathouse studio; card {card} {each.name}; {each.verdict.word}; {sheet}" for card, each in cards}


def test_labels_of_some_boxes_are_only_those():
    text = text_of(labels(studio(), boxes=("J1", "d1")))
    assert "B001" in text
    assert "B012" in text
    assert "B002" not in text


def test_labels_keep_long_names_within_their_frames():
    name = "N" * 60
    text = text_of(labels(report_of(OVERFULL.replace("box A", f"box {name}").replace("run A", f"run {name}"))))
    assert "NNN…" in text
    assert name not in text


def test_a_letter_no_font_has_is_told_by_its_number_and_one_that_moves_text_by_a_dot():
    assert displayable("kiln 漢 \u202e\x1b\n[") == "kiln [6F22] ·· ["
    assert displayable({"a": ["é", ("ß",)]}) == {"a": ["é", ["ß"]]}
    assert ord("é") in covered()


def test_the_letters_said_to_be_covered_are_those_both_fonts_have():
    fonts = pytest.importorskip("fontTools.ttLib")
    both = [
        set(fonts.TTFont(ROOT / f"src/ampleroom/packet/fonts/LiberationSans-{weight}.ttf").getBestCmap())
        for weight in ("Regular", "Bold")
    ]
    assert covered() == both[0] & both[1]


def test_without_its_library_the_packet_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(AmpleroomError, match=r"the packet needs typst: ./run packet brings it"):
        packet(report_of(OVERFULL))


def test_without_the_library_of_square_codes_a_label_has_its_words(monkeypatch):
    monkeypatch.setitem(sys.modules, "segno", None)
    text = text_of(labels(report_of(OVERFULL)))
    assert "B001" in text


def test_a_packet_is_not_larger_than_a_mail_takes():
    assert hashlib.sha256(studio_packet()).digest()
    assert len(studio_packet()) < 1_500_000
