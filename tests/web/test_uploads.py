"""Photographs and workbooks that are not what they say: refused or cleaned, logged, and the server goes on serving."""

import base64
import io
import os
import random
import struct
import threading
import zipfile
import zlib
from pathlib import Path

import pytest

from tests.web.helpers import SHEET, Running

Image = pytest.importorskip("PIL.Image")

KEPT_SIGNS = (b"Exif", b"GPS", b"http", b"Adobe", b"ICC", b"<script", b"PK\x03\x04", b"workshop", b"photographer")


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with Running(tmp_path_factory.mktemp("home")) as found:
        yield found


def sent(server, data, box="J1", kind="image/jpeg"):
    job = server.new()
    return job, server.ask("POST", f"/api/jobs/{job['id']}/photos?box={box}", data, {"content-type": kind})


def picture(size=(40, 20), mode="RGB", color=(200, 30, 30)):
    return Image.new(mode, size, color)


def encoded(image, kind="JPEG", **more):
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def with_place():
    """A photograph that says where it was taken, by whom, with what, and that it lies on its side."""
    image = picture((40, 20))
    image.paste((30, 30, 200), (0, 0, 20, 20))
    exif = Image.Exif()
    exif[0x0112] = 6  # turn it a quarter to the right
    exif[0x010F] = "workshop camera"
    exif[0x013B] = "the photographer"
    place = exif.get_ifd(0x8825)
    place[1], place[2], place[3], place[4] = "N", (52.0, 30.0, 1.0), "W", (1.0, 2.0, 3.0)
    return encoded(image, exif=exif, comment=b"http://workshop", icc_profile=b"ICC" * 50)


def test_place_camera_and_name_are_taken_out_and_the_picture_stands_upright(server):
    data = with_place()
    assert b"workshop" in data
    assert Image.open(io.BytesIO(data)).getexif().get_ifd(0x8825)
    job, made = sent(server, data, box="j1")
    assert made.status == 201
    assert made.json["box"] == "J1"
    got = server.get(f"/api/photos/{made.json['id']}")
    assert got.headers["content-type"] == "image/jpeg"
    assert not any(sign in got.body for sign in KEPT_SIGNS)
    with Image.open(io.BytesIO(got.body)) as kept:
        assert (kept.format, kept.size, dict(kept.getexif())) == ("JPEG", (20, 40), {})
        assert "icc_profile" not in kept.info
        top, bottom = kept.getpixel((10, 5)), kept.getpixel((10, 35))
    assert top[2] > 150 > top[0], "the blue half was left and is on top now"
    assert bottom[0] > 150 > bottom[2]
    assert server.get(f"/api/jobs/{job['id']}/photos").json["photos"] == [made.json]
    assert made.json["bytes"] == len(got.body)


@pytest.mark.parametrize("mode", ["RGB", "L", "1", "P", "RGBA", "LA", "CMYK", "I;16", "PA", "YCbCr"])
def test_pictures_of_every_kind_are_taken(server, mode):
    image = picture((2000, 1000)).convert("RGB")
    image = Image.new("I;16", (2000, 1000), 30000) if mode == "I;16" else image.convert(mode)
    kind = "JPEG" if mode in ("CMYK", "YCbCr") else "PNG"
    if mode == "PA":
        image = image.convert("P")
    _, made = sent(server, encoded(image, kind))
    assert made.status == 201, made
    with Image.open(io.BytesIO(server.get(f"/api/photos/{made.json['id']}").body)) as kept:
        assert (kept.format, kept.mode, kept.size) == ("JPEG", "RGB", (1600, 800))


def test_what_is_seen_through_is_white(server):
    image = Image.new("RGBA", (10, 10), (0, 0, 0, 0))
    for kind in ("PNG", "WEBP"):
        _, made = sent(server, encoded(image, kind))
        with Image.open(io.BytesIO(server.get(f"/api/photos/{made.json['id']}").body)) as kept:
            assert kept.getpixel((5, 5)) == (255, 255, 255)


def test_what_hides_behind_a_picture_is_left_behind(server):
    """One file that is a picture, a page and a zip file, by who reads it."""
    out = io.BytesIO(encoded(picture(), comment=b"<script>alert(1)</script>"))
    out.seek(0, 2)
    out.write(b"<html><script>alert(1)</script></html>")
    with zipfile.ZipFile(out, "a") as archive:
        archive.writestr("evil.html", "<script>alert(1)</script>")
    data = out.getvalue()
    assert zipfile.is_zipfile(io.BytesIO(data))
    _, made = sent(server, data)
    assert made.status == 201
    got = server.get(f"/api/photos/{made.json['id']}")
    assert not any(sign in got.body for sign in KEPT_SIGNS)
    assert not zipfile.is_zipfile(io.BytesIO(got.body))
    assert got.headers["x-content-type-options"] == "nosniff"


def png(width, height, rows=b"", depth=1, extra=b""):
    """A PNG that claims a size, whatever it holds."""

    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, height, depth, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + extra
        + chunk(b"IDAT", zlib.compress(rows, 9))
        + chunk(b"IEND", b"")
    )


def text_chunk(size):
    data = b"words\x00\x00" + zlib.compress(b"\x00" * size, 9)
    return struct.pack(">I", len(data)) + b"zTXt" + data + struct.pack(">I", zlib.crc32(b"zTXt" + data))


JPEG = encoded(picture((300, 200)))
NO_PHOTOS = {
    "nothing": b"",
    "rubbish": random.Random(1).randbytes(5000),
    "a drawing that can hold script": b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>',
    "a drawing with a declaration": b'<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "a">]><svg xmlns="http://www.w3.org/2000/svg"/>',
    "a page": b"<!doctype html><script>alert(1)</script>",
    "a PDF": b"%PDF-1.7\n%%EOF",
    "half a JPEG": JPEG[: len(JPEG) // 2],
    "the head of a JPEG": JPEG[:20],
    "a JPEG without its end": JPEG[:-200],
    "a GIF": encoded(picture(), "GIF"),
    "a TIFF": encoded(picture(), "TIFF"),
    "an icon": encoded(picture((32, 32)), "ICO"),
    "a PNG of 65,000 by 65,000 in a few bytes": png(65_000, 65_000),
    "a PNG of two thousand million by one": png(2_000_000_000, 1),
    "a PNG of 10,000 by 9,000, all there": png(10_000, 9_000, b"\x00" * (9_000 * 1251)),
    "a PNG of no size": png(0, 0),
    "a PNG with a hundred million letters of text": png(8, 8, b"\x00" * 16, extra=text_chunk(100_000_000)),
    "13 MB": JPEG + b"\x00" * 13_000_000,
}


@pytest.mark.parametrize("name", NO_PHOTOS)
def test_what_is_no_photograph_or_too_large_is_refused_and_logged(server, name):
    job, refused = sent(server, NO_PHOTOS[name])
    assert (refused.status, refused.json["kind"]) == (422, "question"), refused
    assert "photo" in refused.json["error"]
    assert server.get(f"/api/jobs/{job['id']}/photos").json["photos"] == []
    assert server.logged.rstrip().endswith(refused.json["error"])
    assert "Traceback" not in server.logged
    assert server.get("/api/hello").status == 200


@pytest.mark.filterwarnings("ignore")  # of the decoders, about what is damaged
def test_damaged_photographs_are_refused_or_cleaned_never_a_failure():
    """A letter changed here and there in real files: nothing but a JPEG or a clear word comes of it."""
    from ampleroom.web.photos import NoPhoto, cleaned

    dice = random.Random(3)
    good = [
        with_place(),
        encoded(picture(), "PNG"),
        encoded(picture(), "WEBP"),
        encoded(picture(mode="L", color=9), "WEBP", lossless=True),
    ]
    refused = 0
    for _ in range(400):
        data = bytearray(dice.choice(good))
        for _ in range(dice.randint(1, 6)):
            data[dice.randrange(min(len(data), 400))] = dice.randrange(256)
        try:
            assert cleaned(bytes(data))[:2] == b"\xff\xd8"
        except NoPhoto:
            refused += 1
    assert 20 < refused < 400


def test_a_photograph_is_of_a_box_that_is_there(server):
    job = server.new()
    path = f"/api/jobs/{job['id']}/photos"
    for box, status in (("J9", 422), ("", 400), ("x" * 61, 400), ("%3Cscript%3E", 422), ("P", 422)):
        assert server.ask("POST", f"{path}?box={box}", JPEG).status == status
    assert server.ask("POST", path, JPEG).status == 400
    assert server.ask("POST", "/api/jobs/nobody/photos?box=J1", JPEG).status == 404
    made = server.ask("POST", f"{path}?box=J1", JPEG).json
    assert server.ask("DELETE", f"/api/photos/{made['id']}").json == {"removed": made["id"]}
    assert (
        server.get(f"/api/photos/{made['id']}").status
        == server.ask("DELETE", f"/api/photos/{made['id']}").status
        == 404
    )


def test_a_box_has_so_many_photographs_and_no_more(app):
    from ampleroom.web.photos import MOST_A_BOX

    job = app.new()
    for box in ("J1", "S1"):
        statuses = [
            app.ask("POST", f"/api/jobs/{job['id']}/photos?box={box}", JPEG).status for _ in range(MOST_A_BOX + 1)
        ]
        assert statuses == [201] * MOST_A_BOX + [422]


def test_the_packet_shows_what_is_kept_here_and_nothing_sent_with_the_question(server):
    """Photographs in the packet were encoded here; others are not even looked at."""
    pytest.importorskip("typst")
    job, made = sent(server, JPEG)
    assert made.status == 201
    plain = server.answer("packet", sheet=SHEET).json["pdf"]
    for evil in (
        {"J1": ["no base64"]},
        {"J1": [base64.b64encode(NO_PHOTOS["a PNG of 65,000 by 65,000 in a few bytes"]).decode()]},
        [1],
        "x",
    ):
        assert server.answer("packet", sheet=SHEET, photos=evil).json["pdf"] == plain
    shown = server.answer("packet", sheet=SHEET, job=job["id"]).json["pdf"]
    assert b"/Image" in base64.b64decode(shown) or len(shown) > len(plain)
    assert server.answer("packet", sheet=SHEET, job="nobody").status == 404


@pytest.mark.parametrize("photos", [[1], "x", {"J1": "x"}, {"J1": [1]}, {"J1": ["%"]}, {"J1": [None]}])
def test_the_engine_refuses_photographs_that_are_none(photos):
    from ampleroom.web import engine

    assert "photos" in engine.answer("packet", {"sheet": SHEET, "photos": photos})["error"]


# ---- workbooks -----------------------------------------------------------------------------------------------------


def workbook_of(rows, more=()):
    """A workbook with the given XML as its rows."""
    files = {
        "[Content_Types].xml": '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" '  # noqa: E501
        'ContentType="application/xml"/><Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override '
        'PartName="/xl/workbook.xml" '
        'ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>',
        "_rels/.rels": '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship '  # noqa: E501
        'Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" '
        'Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": '<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" '
        'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet '
        'name="Boxes" sheetId="1" r:id="rId1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship '  # noqa: E501
        'Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" '
        'Target="worksheets/sheet1.xml"/></Relationships>',
        "xl/worksheets/sheet1.xml": (
            "<worksheet "
            f'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{rows}</sheetData></worksheet>'
        ),
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, text in [*files.items(), *more]:
            archive.writestr(name, text)
    return out.getvalue()


def cell(place, text):
    return f'<c r="{place}" t="inlineStr"><is><t>{text}</t></is></c>'


def brought(server, data, name="job.xlsx"):
    return server.answer("import", name=name, content=base64.b64encode(data).decode())


def test_the_workbooks_made_here_are_workbooks(server):
    pytest.importorskip("python_calamine")
    rows = (
        f"<row r='1'>{cell('A1', 'Box')}{cell('B1', 'At')}</row><row "
        f"r='2'>{cell('A2', 'J1')}{cell('B2', 'at the kiln')}</row>"
    )
    answer = brought(server, workbook_of(rows))
    assert "box J1" in answer.json.get("sheet", answer.json), answer


def far_corner():
    """Two cells; between them seventeen thousand million empty ones."""
    return workbook_of(f"<row r='1'>{cell('A1', 'Box')}</row><row r='1048576'>{cell('XFD1048576', 'x')}</row>")


def letters():
    """Two hundred million letters of nothing."""
    return workbook_of("", [("xl/sharedStrings.xml", "<sst>" + " " * 200_000_000 + "</sst>")])


def rows():
    """Forty thousand rows of the same thousand letters."""
    words = "x" * 1000
    return workbook_of("".join(f"<row r='{n}'>{cell(f'A{n}', words)}</row>" for n in range(1, 40_000)))


def repeats():
    """One row, said to stand there a million times, of one cell sixteen thousand times."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("META-INF/manifest.xml", "<manifest/>")
        archive.writestr(
            "content.xml",
            '<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
            'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0">'  # noqa: E501
            '<office:body><office:spreadsheet><table:table table:name="Boxes"><table:table-row table:number-rows-repeated="1048576">'  # noqa: E501
            '<table:table-cell table:number-columns-repeated="16384" office:value-type="string"><text:p>x</text:p></table:table-cell>'  # noqa: E501
            "</table:table-row></table:table></office:spreadsheet></office:body></office:document-content>",
        )
    return out.getvalue()


def names():
    """Names that stand for ten names each, nine deep."""
    pairs = zip("abcdefgh", "bcdefghi", strict=True)
    entities = "".join(f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in pairs)
    return workbook_of(f'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">{entities}]>' + f"<row r='1'>{cell('A1', '&i;')}</row>")


@pytest.mark.parametrize("made", [far_corner, letters, rows, repeats, names], ids=lambda made: made.__name__)
def test_a_workbook_that_wants_to_be_large_does_not_take_the_server_with_it(server, made):
    pytest.importorskip("python_calamine")
    data = made()
    assert len(data) < 2_000_000
    answer = brought(server, data, "job.ods" if made is repeats else "job.xlsx")
    assert answer.status == 422
    assert answer.json["error"]
    assert server.get("/api/hello").status == 200
    assert server.process.poll() is None


TABLES = {
    "commas": b"," * 15_000_000,
    "lines": b"a\n" * 5_000_000,
    "one endless word": b'"' + b"x" * 15_000_000,
    "one box a million times": b"Box,At\n" + b"J1,x\n" * 1_000_000,
}


@pytest.mark.parametrize("name", TABLES)
def test_a_table_that_is_all_commas_takes_nothing_from_the_server(server, name):
    """Read elsewhere; the server answers meanwhile, and its own memory does not grow by what the table takes."""
    began, answers = threading.Event(), []

    def bring():
        began.set()
        answers.append(brought(server, TABLES[name], "job.csv"))

    bringing = threading.Thread(target=bring)
    bringing.start()
    began.wait()
    while bringing.is_alive():
        assert server.get("/api/hello").status == 200
        bringing.join(0.2)
    assert answers[0].status == 422
    assert answers[0].json["error"]
    if memory := resident(server.process.pid):
        assert memory < 700_000_000


def resident(pid):
    """Bytes of memory a process has, where the system tells."""
    try:
        pages = Path(f"/proc/{pid}/statm").read_text().split()[1]
    except OSError:
        return 0
    return int(pages) * os.sysconf("SC_PAGE_SIZE")


def test_what_took_too_much_is_logged(server):
    pytest.importorskip("python_calamine")
    told = brought(server, far_corner()).json["error"]
    assert "too much" in told
    assert "refused a workbook" in server.logged


def test_a_workbook_in_a_workbook_and_one_half_are_told(server):
    pytest.importorskip("python_calamine")
    good = workbook_of(f"<row r='1'>{cell('A1', 'Box')}</row>")
    for data in (good[: len(good) // 2], good + good, b"PK" + good, zipped(good)):
        answer = brought(server, data)
        assert answer.status in (200, 422)
        assert answer.status == 200 or answer.json["error"]
    assert server.get("/api/hello").status == 200


def zipped(data):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("job.xlsx", data)
    return out.getvalue()
