"""Colors: enough contrast to be read, and never the only difference."""

from itertools import combinations, pairwise

import pytest

from ampleroom.job.trade import COLORS
from ampleroom.pictures.drawing import ROLES
from ampleroom.pictures.job_map import SHAPE, TONES
from ampleroom.pictures.palette import INSULATION, PATTERNS, THEMES
from ampleroom.pictures.svg import MARKS
from ampleroom.worksheet import Verdict

WRITTEN = ("ink", "faint", "passes", "advice", "open", "fails")
TILES = ("conductors", "fixture", "signal", "clamps", "fittings", "devices", "grounds", "blocks")
RED_GREEN = {
    "no red": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "no green": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
}
"""What is left of a color, in linear light, for those who see no red or no green (the published matrices of 2009)."""


def linear(color):
    """Red, green and blue in linear light, 0 to 1, by the standard's formula."""
    parts = [int(color[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    return [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]


def luminance(light):
    return 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2]


def contrast(one, other):
    """Contrast as the web's accessibility guideline defines it."""
    high, low = sorted((luminance(linear(one)), luminance(linear(other))), reverse=True)
    return (high + 0.05) / (low + 0.05)


def seen_without(kind, color):
    light = linear(color)
    return [min(max(sum(f * part for f, part in zip(row, light, strict=True)), 0), 1) for row in RED_GREEN[kind]]


def test_the_measure_of_contrast_is_the_known_one():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("ground", ["page", "room"])
def test_all_that_is_written_can_be_read(theme, ground):
    for role in WRITTEN:
        assert contrast(THEMES[theme][role], THEMES[theme][ground]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
def test_the_edge_of_a_tile_stands_out_from_every_tile(theme):
    for role in (*TILES, "room"):
        assert contrast(THEMES[theme]["ink"], THEMES[theme][role]) >= 3


@pytest.mark.parametrize("theme", THEMES)
def test_every_role_has_a_color_in_every_theme(theme):
    assert set(ROLES) <= set(THEMES[theme])


def test_every_kind_of_tile_has_a_pattern_of_its_own_so_it_reads_in_black_and_white():
    marks = [PATTERNS[role] for role in TILES]
    assert len(set(marks)) == len(TILES)
    assert set(marks) - {""} <= set(MARKS)
    drawn = [mark for _, mark in MARKS.values()]
    assert len(set(drawn)) == len(drawn)


def test_slanted_lines_mean_what_does_not_fit_and_nothing_else():
    assert "over" not in PATTERNS.values()
    for name in PATTERNS.values():
        if name:
            assert "M0 7L7 0" not in MARKS[name][1]


@pytest.mark.parametrize("kind", RED_GREEN)
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_tiles_without_red_or_green_differ_in_pattern_or_in_color(theme, kind):
    for one, other in combinations(TILES, 2):
        seen = [seen_without(kind, THEMES[theme][role]) for role in (one, other)]
        far = sum((a - b) ** 2 for a, b in zip(*seen, strict=True)) ** 0.5
        assert PATTERNS[one] != PATTERNS[other] or far > 0.1


@pytest.mark.parametrize("kind", RED_GREEN)
def test_verdicts_without_red_or_green_have_words_and_shapes_to_tell_them_apart(kind):
    assert len({verdict.word for verdict in Verdict}) == len({verdict.shape for verdict in Verdict}) == len(Verdict)
    assert len(set(SHAPE.values())) == len(Verdict)
    for theme in ("light", "dark"):
        for role in ("passes", "advice", "open", "fails"):
            light = luminance(seen_without(kind, THEMES[theme][role]))
            page = luminance(linear(THEMES[theme]["page"]))
            high, low = sorted((light, page), reverse=True)
            assert (high + 0.05) / (low + 0.05) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
def test_the_tones_of_circuits_stand_out_from_the_page_and_differ_in_brightness_alone(theme):
    tones = [THEMES[theme][role] for role in TONES]
    assert all(contrast(tone, THEMES[theme]["page"]) >= 3 for tone in tones)
    for kind in RED_GREEN:
        lights = sorted(luminance(seen_without(kind, tone)) for tone in tones)
        assert all((high + 0.05) / (low + 0.05) > 1.3 for low, high in pairwise(lights))


def test_every_color_a_sheet_can_name_can_be_drawn():
    assert set(COLORS) <= set(INSULATION)
