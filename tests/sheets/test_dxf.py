"""Drawings for those who paste them into theirs: opened and audited by the library they are checked with, to scale."""

import io
import sys

import pytest

from ampleroom import check
from ampleroom.errors import AmpleroomError
from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Text
from ampleroom.pictures.job_map import job_map
from ampleroom.pictures.room import room_picture
from ampleroom.rules.all_rules import RULES
from ampleroom.sheets.dxf import dxf_bytes, plain_text
from tests.hostile import HOSTILE
from tests.pictures.helpers import OVERFULL, UNREAD, example, report, texts
from tests.pictures.test_svg import drawings_of, hostile_job

ezdxf = pytest.importorskip("ezdxf")
recover = pytest.importorskip("ezdxf.recover")
area = pytest.importorskip("ezdxf.math").area


def opened(drawing):
    """The drawing read back, after the library has looked for what is wrong in it."""
    document, auditor = recover.read(io.BytesIO(dxf_bytes(drawing)))
    assert not auditor.errors
    assert not document.audit().errors
    return document


def tile_areas(document):
    layers = {rule.drawn_as.upper() for rule in RULES.values() if rule.drawn_as}
    return [
        area(shape.vertices_in_wcs())
        for shape in document.modelspace().query("LWPOLYLINE")
        if shape.closed and shape.dxf.layer in layers
    ]


@pytest.mark.parametrize("sheet", [OVERFULL, UNREAD], ids=["overfull", "not read"])
def test_every_picture_of_a_job_opens_without_a_fault(sheet):
    for drawing in drawings_of(report(sheet).job):
        assert len(opened(drawing).modelspace()) >= len(drawing.shapes)


def test_the_map_of_a_large_job_opens_without_a_fault_and_names_every_place():
    found = example("rowhouse")
    document = opened(job_map(found))
    written = {text.dxf.text for text in document.modelspace().query("TEXT")}
    assert {box.name for box in found.job.boxes} <= written


def test_the_tiles_have_the_areas_of_the_worksheet():
    """By hand: 18.0 in3 in a room of 7.5."""
    drawing = room_picture(report(OVERFULL).findings[0])
    document = opened(drawing)
    (room,) = [s for s in document.modelspace().query("LWPOLYLINE") if s.closed and s.dxf.layer == "ROOM"]
    scale = area(room.vertices_in_wcs()) / 7.5
    assert sum(tile_areas(document)) / scale == pytest.approx(18.0)


def test_what_does_not_fit_is_hatched_on_a_layer_of_its_own():
    document = opened(room_picture(report(OVERFULL).findings[0]))
    hatches = document.modelspace().query("HATCH")
    assert {hatch.dxf.layer for hatch in hatches} == {"OVER"}
    assert {hatch.dxf.pattern_name for hatch in hatches} == {"ANSI31"}


def test_what_is_low_on_the_page_is_low_in_the_drawing_and_words_stand_where_they_stood():
    drawing = Drawing(100, 100, "t", "d", [Text(10, 20, "high"), Text(90, 80, "low", anchor="end"), Dot(5, 60, 3)])
    space = opened(drawing).modelspace()
    high, low = space.query("TEXT")
    assert high.get_placement()[1].isclose((10, -20))
    assert low.get_placement()[1].isclose((90, -80))
    assert low.get_placement()[0].name == "RIGHT"
    (dot,) = space.query("CIRCLE")
    assert (dot.dxf.center.y, dot.dxf.radius) == (-60, 3)


def test_every_color_of_an_insulation_and_every_role_is_a_layer():
    drawing = Drawing(9, 9, "t", "d", [Line(((0, 0), (9, 9)), color="red"), Rect(0, 0, 5, 5, "devices", dashed=True)])
    document = opened(drawing)
    assert {"RED", "DEVICES"} <= {layer.dxf.name for layer in document.layers}


def test_a_dashed_line_has_a_line_type_that_is_in_the_file():
    document = opened(Drawing(9, 9, "t", "d", [Line(((0, 0), (9, 9)), dashed=True)]))
    (line,) = document.modelspace().query("LWPOLYLINE")
    assert line.dxf.linetype in document.linetypes


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_name_is_text_and_no_command(name):
    for drawing in drawings_of(hostile_job(name)):
        space = opened(drawing).modelspace()
        assert {entity.dxftype() for entity in space} <= {"TEXT", "LWPOLYLINE", "CIRCLE", "HATCH"}
        for text in space.query("TEXT"):
            assert text.dxf.text.isprintable()
            assert "%%" not in text.dxf.text
            assert "\\" not in text.dxf.text


@pytest.mark.parametrize(
    ("text", "shown"),
    [("%%c", "% %c"), ("\\U+0041", "/U+0041"), ("a^Jb", "a^Jb"), ("a\nb\x1b", "a·b·"), ("\u202eevil", "·evil"),
     ("50%", "50%")],
)  # fmt: skip
def test_codes_are_shown_as_they_stand_by_the_library_that_reads_them(text, shown):
    (found,) = opened(Drawing(9, 9, "t", "d", [Text(1, 1, text)])).modelspace().query("TEXT")
    assert found.plain_text() == shown
    assert plain_text("J1, at ridge") == "J1, at ridge"


def test_all_that_is_written_in_the_picture_is_written_in_the_file():
    for finding in check(report(OVERFULL).job).findings:
        if finding.worst is not None:
            drawing = room_picture(finding)
            written = [text.dxf.text for text in opened(drawing).modelspace().query("TEXT")]
            assert written == [text for text in texts(drawing) if text]


def test_without_its_library_dxf_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    with pytest.raises(AmpleroomError, match="DXF needs ezdxf: "):
        dxf_bytes(Drawing(9, 9, "t", "d"))
