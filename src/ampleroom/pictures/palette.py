"""Colors for each role, by theme. Chosen so that red and green are never the only difference, and greys stay apart in
print.
"""

from __future__ import annotations

Palette = dict[str, str]

LIGHT: Palette = {
    "page": "#ffffff",
    "ink": "#1b1f24",
    "faint": "#5b6370",
    "room": "#f4f1ea",
    "spare": "#f4f1ea",
    "over": "#ffffff",
    "passes": "#0b6e4f",
    "advice": "#1f5fa8",
    "open": "#8a5a00",
    "fails": "#b3261e",
    "conductors": "#9ec5e8",
    "fixture": "#cfe3f5",
    "signal": "#dfe7ee",
    "clamps": "#e8c38a",
    "fittings": "#f2ddb8",
    "devices": "#c7b4e2",
    "grounds": "#a8d5ba",
    "blocks": "#e3b1b1",
    "circuit-1": "#0f2f55",
    "circuit-2": "#9a4510",
    "circuit-3": "#7d8894",
}
DARK: Palette = {
    "page": "#14171b",
    "ink": "#f2f4f7",
    "faint": "#a7b0bb",
    "room": "#23272e",
    "spare": "#23272e",
    "over": "#14171b",
    "passes": "#6fd3ab",
    "advice": "#8ec1ff",
    "open": "#f0c060",
    "fails": "#ff8a80",
    "conductors": "#2f5f8a",
    "fixture": "#3f6f96",
    "signal": "#4c5968",
    "clamps": "#7d5b22",
    "fittings": "#8d7038",
    "devices": "#5d4a86",
    "grounds": "#2f6b4a",
    "blocks": "#7d4343",
    "circuit-1": "#e4edf7",
    "circuit-2": "#e08a4a",
    "circuit-3": "#66778c",
}
PRINT: Palette = {
    "page": "#ffffff",
    "ink": "#000000",
    "faint": "#444444",
    "room": "#ffffff",
    "spare": "#ffffff",
    "over": "#ffffff",
    "passes": "#000000",
    "advice": "#000000",
    "open": "#000000",
    "fails": "#000000",
    "conductors": "#d0d0d0",
    "fixture": "#e2e2e2",
    "signal": "#ededed",
    "clamps": "#b8b8b8",
    "fittings": "#c6c6c6",
    "devices": "#a6a6a6",
    "grounds": "#dcdcdc",
    "blocks": "#bdbdbd",
    "circuit-1": "#000000",
    "circuit-2": "#555555",
    "circuit-3": "#949494",
}
THEMES = {"light": LIGHT, "dark": DARK, "print": PRINT}

INSULATION = {
    "black": "#1a1a1a",
    "white": "#f7f7f2",
    "red": "#c62828",
    "blue": "#1e5fb3",
    "green": "#2e7d32",
    "yellow": "#e0b400",
    "brown": "#6d4520",
    "orange": "#e06c00",
    "gray": "#8d9399",
    "purple": "#6a3fa0",
    "pink": "#d77a9b",
    "tan": "#c9ab7c",
    "white-striped": "#f7f7f2",
    "black-striped": "#1a1a1a",
    "red-striped": "#c62828",
    "green-yellow": "#2e7d32",
    "bare": "#b87333",
}
"""The color of each insulation; bare is copper. Every conductor is also named in words."""

PATTERNS = {
    "conductors": "",
    "fixture": "dots",
    "signal": "rings",
    "clamps": "upright",
    "fittings": "crosses",
    "devices": "grid",
    "grounds": "zigzag",
    "blocks": "level",
}
"""How each kind of tile is patterned, so that it is told apart without color. Slanted lines are kept for what does not
fit."""
