"""A drawing as SVG: well-formed, told to those who do not see it, and safe whatever a name holds."""

import re
from decimal import Decimal

import pytest

from ampleroom import check
from ampleroom.job.model import Base, Box, Cable, Circuit, Device, Job, Panel, Run, Stop
from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Text
from ampleroom.pictures.entering import box_picture
from ampleroom.pictures.job_map import job_map
from ampleroom.pictures.palette import THEMES
from ampleroom.pictures.room import room_picture
from ampleroom.pictures.svg import svg
from ampleroom.words import printed
from tests.hostile import HOSTILE
from tests.pictures.helpers import OVERFULL, SVG, example, parsed, report, shown

ALLOWED = {"svg", "title", "desc", "style", "defs", "pattern", "rect", "path", "circle", "polygon", "text"}
ATTRIBUTES = {
    *(
        "width",
        "height",
        "viewBox",
        "role",
        "aria-labelledby",
        "font-family",
        "id",
        "class",
        "fill",
        "stroke",
        "opacity",
    ),
    *("stroke-width", "stroke-dasharray", "x", "y", "rx", "cx", "cy", "r", "d", "points", "font-size", "font-weight"),
    *("text-anchor", "patternUnits"),
}


def hostile_job(name):
    """A job whose every word is the hostile one."""
    base = Base("marked", volume=Decimal(30))
    device = Device(("receptacle",), "12", label=name)
    return Job(
        title=name,
        edition=2020,
        panels=(Panel("P " + name, description=name),),
        boxes=(Box(name, name, items=(base, device)),),
        circuits=(Circuit(name, label=name),),
        runs=(Run((Stop("P " + name), Stop(name)), cable=Cable("nm-b", "12", "2"), circuit=name, label=name),),
    )


def drawings_of(job):
    found = check(job)
    return [
        room_picture(found.subjects[0].fill_findings[0]),
        box_picture(job, job.boxes[0], found.book),
        job_map(found),
    ]  # fmt: skip


@pytest.mark.parametrize("theme", ["light", "dark", "print", "auto"])
def test_a_picture_is_well_formed_with_a_title_a_description_and_a_role(theme):
    for drawing in drawings_of(report(OVERFULL).job):
        root = parsed(svg(drawing, theme))
        assert root.tag == f"{SVG}svg"
        assert root.get("role") == "img"
        title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
        assert title is not None
        assert desc is not None
        assert title.text == drawing.title
        assert desc.text == printed(drawing.description)
        assert root.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
        assert root.get("viewBox") == f"0 0 {root.get('width')} {root.get('height')}"


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("theme", ["light", "auto"])
def test_a_hostile_name_is_text_and_nothing_else(name, theme):
    for drawing in drawings_of(hostile_job(name)):
        root = parsed(svg(drawing, theme))
        for element in root.iter():
            assert element.tag.removeprefix(SVG) in ALLOWED
            assert set(element.attrib) <= ATTRIBUTES
            assert not any(re.search(r"(?i)javascript|expression|http", value) for value in element.attrib.values())


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_name_can_still_be_read_in_its_picture(name):
    visible = "".join(letter if letter.isprintable() else "·" for letter in name)
    start = " ".join(visible.split())[:12]
    for drawing in drawings_of(hostile_job(name)):
        assert start in " ".join(shown(svg(drawing)).split())


def test_no_letter_that_turns_text_around_or_moves_it_gets_into_a_picture():
    for drawing in drawings_of(hostile_job(HOSTILE["right to left"] + HOSTILE["control"])):
        assert svg(drawing).isprintable()


def test_a_prefix_keeps_the_ids_and_classes_of_two_pictures_apart():
    drawing = room_picture(report(OVERFULL).findings[0])
    one, other = svg(drawing, "auto", "one"), svg(drawing, "auto", "other")
    ids = [set(re.findall(r' id="([^"]+)"', text)) for text in (one, other)]
    classes = [
        {word for found in re.findall(r' class="([^"]+)"', text) for word in found.split()} for text in (one, other)
    ]
    assert ids[0]
    assert not ids[0] & ids[1]
    assert classes[0]
    assert not classes[0] & classes[1]


def test_every_id_that_is_used_is_there():
    for finding in example("studio").findings:
        if finding.worst is not None:
            text = svg(room_picture(finding), prefix="x")
            assert set(re.findall(r"url\(#([^)]+)\)", text)) <= set(re.findall(r' id="([^"]+)"', text))


def test_light_dark_and_print_differ_in_their_colors_only():
    drawing = room_picture(report(OVERFULL).findings[0])
    without = [re.sub(r"#[0-9a-f]{6}", "#", svg(drawing, theme)) for theme in THEMES]
    assert without[0] == without[1] == without[2]
    assert len({svg(drawing, theme) for theme in THEMES}) == 3


def test_auto_follows_the_readers_setting_and_is_for_paper_on_paper():
    text = svg(room_picture(report(OVERFULL).findings[0]), "auto")
    assert "@media (prefers-color-scheme:dark){" in text
    assert "@media print{" in text
    for palette in THEMES.values():
        assert palette["conductors"] in text
    assert 'fill="#' not in re.sub(r"<style>.*?</style>", "", text)


def test_a_picture_without_a_page_has_no_background():
    drawing = Drawing(10, 10, "t", "d", [Text(1, 9, "a")])
    assert "<rect" in svg(drawing)
    assert "<rect" not in svg(drawing, page=False)


def test_every_shape_is_drawn_and_each_verdict_has_its_own():
    drawing = Drawing(100, 100, "t", "d")
    drawing.add(Dot(5, 5, 3), Dot(5, 5, 3, shape="diamond", filled=False), Dot(5, 5, 3, shape="square"))
    drawing.add(
        Rect(1, 1, 5, 5, "devices", note="a note"), Line(((0, 0), (9, 9)), curved=True), Text(1, 1, "x", bold=True)
    )
    tags = [element.tag.removeprefix(SVG) for element in parsed(svg(drawing)).iter()]
    assert {"circle", "polygon", "rect", "path", "text"} <= set(tags)
    assert "<title>a note</title>" in svg(drawing)


def test_a_conductor_has_the_color_of_its_insulation_in_every_theme():
    drawing = Drawing(100, 100, "t", "d", [Line(((0, 0), (9, 9)), color="red"), Line(((0, 0), (9, 9)), color="puce")])
    for theme in (*THEMES, "auto"):
        assert 'stroke="#c62828"' in svg(drawing, theme)
        assert 'stroke="#888888"' in svg(drawing, theme)


def test_numbers_in_a_picture_are_short_and_never_minus_nothing():
    text = svg(Drawing(10, 10, "t", "d", [Rect(-0.0001, 1 / 3, 2.0, 1e-9, "room")]))
    assert 'x="0" y="0.33" width="2" height="0"' in text
