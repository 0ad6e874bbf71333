"""map: the job as a picture in a file."""

import xml.etree.ElementTree as ET

import pytest

from tests.cli.helpers import inside, outside


def written_in(path):
    return " ".join("".join(element.itertext()) for element in ET.parse(path).iter("{http://www.w3.org/2000/svg}text"))


def test_the_map_is_written_and_told_in_words(folder):
    ran = inside("map", "fails.job", "--to", "m.svg")
    assert ran.status == 0
    assert "1 box, 0 panels, 1 run: 1 fails. Failing: J1." in " ".join(ran.out.split())
    assert {"J1", "fails"} <= set(written_in(folder / "m.svg").split())


def test_without_a_name_it_is_map_svg(folder):
    assert inside("map", "passes.job").status == 0
    assert (folder / "map.svg").is_file()


def test_as_json_it_says_the_file_and_the_words(folder):
    said = inside("map", "open.job", "--to", "m.svg", "--json").json
    assert said["schema"] == "ampleroom-picture/1"
    assert said["file"] == "m.svg"
    assert "needs a check" in said["description"]


def test_the_same_map_as_a_drawing_file(folder):
    pytest.importorskip("ezdxf")
    assert inside("map", "fails.job", "--to", "m.DXF").status == 0
    assert b"J1" in (folder / "m.DXF").read_bytes()


@pytest.mark.parametrize("name", ["m.png", "m"])
def test_another_kind_of_file_is_refused_and_not_made(folder, name):
    ran = inside("map", "fails.job", "--to", name)
    assert (ran.status, ran.out) == (2, "")
    assert "a picture is written as .svg or .dxf, not" in ran.err
    assert not (folder / name).exists()


def test_a_folder_that_is_not_there_is_told(folder):
    ran = inside("map", "fails.job", "--to", "nowhere/m.svg")
    assert ran.status == 2
    assert "cannot be written: No such file or directory; nothing was changed" in " ".join(ran.err.split())


def test_each_theme_is_another_picture_and_the_same_bytes_every_time(folder):
    pictures = {}
    for theme in ("light", "dark", "print", "auto"):
        inside("map", "fails.job", "--to", f"{theme}.svg", "--theme", theme)
        pictures[theme] = (folder / f"{theme}.svg").read_bytes()
    assert len(set(pictures.values())) == 4
    outside("map", "fails.job", "--to", "again.svg", PYTHONHASHSEED="7")
    assert (folder / "again.svg").read_bytes() == pictures["light"]


def test_another_edition_may_have_another_verdict(folder):
    """Five grounds: one allowance until 2017, one and a quarter from 2020 on."""
    sheet = "edition 2020\nbox A\n  marked 24.75 in3\n  clamps outside\nrun A > ? 5 x 12/2 nm-b\n"
    (folder / "five.job").write_text(sheet)
    assert "1 fails" in inside("map", "five.job").out
    assert "1 passes" in inside("map", "five.job", "--edition", "2017", "--force").out
