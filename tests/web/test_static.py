"""The page's scripts, without a browser: each is found, each name it takes is there, and all are fetched with the
page.
"""

import json
import re
import runpy
from pathlib import Path

import pytest

STATIC = Path(__file__).parents[2] / "src" / "ampleroom" / "web" / "static"
SCRIPTS = {path.name: path.read_text("utf-8") for path in sorted(STATIC.glob("*.js"))}
ALONE = {"sw.js"}
"""Scripts that no other one imports: the service worker."""
IMPORT = re.compile(r"^(?:im|ex)port (?:\{([^}]*)\}|\* as \w+) from '\./([\w.-]+)';", re.M)


def imports(text):
    """What a script takes from others: pairs of a script and the names taken, none where it takes all."""
    for names, script in IMPORT.findall(text):
        yield script, [name.split(" as ")[0].strip() for name in names.split(",") if name.strip()]


def exported(text):
    direct = re.findall(r"^export (?:async )?(?:function|const|let|class) (\w+)", text, re.M)
    return {
        *direct,
        *(
            name
            for names, _ in re.findall(r"^export \{([^}]*)\} from '([^']+)'", text, re.M)
            for name in re.findall(r"\w+", names)
        ),
    }


@pytest.mark.parametrize("name", SCRIPTS)
def test_every_name_a_script_takes_is_there_and_used(name):
    text = SCRIPTS[name]
    for script, taken in imports(text):
        assert set(taken) <= exported(SCRIPTS[script]), (name, script)
    rest = IMPORT.sub("", text)
    for imported in re.findall(r"^import \{([^}]*)\}", text, re.M):
        for each in imported.split(","):
            local = each.split(" as ")[-1].strip()
            assert re.search(rf"(?<![\w.]){local}\b", rest), f"{name} imports {local} and does not use it"


@pytest.mark.parametrize("name", SCRIPTS)
def test_what_others_export_is_not_used_without_an_import(name):
    """A name lost when a script was split would only be seen when somebody taps what needs it."""
    text = SCRIPTS[name]
    own = set(re.findall(r"(?:function|const|let|class) (\w+)", text))
    lists = re.findall(
        r"\(([^()]*)\) (?:=>|\{)|(?:import|const|let) [\[{]([^\]}]*)[\]}]", text
    )  # parameters, and what is taken apart
    own |= {word for pair in lists for word in re.findall(r"\w+", " ".join(pair))}
    code = re.sub(r"//[^\n]*|/\*.*?\*/", "", text, flags=re.S)
    for script, other in SCRIPTS.items():
        for each in exported(other) - own if script != name else ():
            called = re.search(rf"(?<![\w.]){each}\(", code)
            assert called is None or re.search(rf"^\s*(async )?{each}\(.*\{{$", code, re.M), (
                f"{name} calls {each} of {script}"
            )


def test_the_page_fetches_every_script_at_once():
    page = (STATIC / "index.html").read_text("utf-8")
    begun = re.findall(r'<link rel="modulepreload" href="([^"]+)">', page)
    reached, new = set(), ["app.js"]
    while new:
        name = new.pop()
        if name not in reached:
            reached.add(name)
            new += [script for script, _ in imports(SCRIPTS[name])]
    assert begun == sorted(reached - {"app.js"})
    assert reached == set(SCRIPTS) - ALONE


def test_the_icons_are_what_the_manifest_says_and_what_the_script_draws():
    """A home screen takes PNG of these two sizes, and one that may be cut round: a circle of four fifths is safe (W3C,
    Web Application Manifest, icon masks).
    """
    image = pytest.importorskip("PIL.Image")
    drawn = runpy.run_path(str(Path(__file__).parents[2] / "scripts" / "icons.py"))["drawn"]
    icons = json.loads((STATIC / "manifest.webmanifest").read_text("utf-8"))["icons"]
    pngs = [icon for icon in icons if icon["type"] == "image/png"]
    assert {(icon["sizes"], icon["purpose"]) for icon in pngs} == {
        ("192x192", "any"), ("512x512", "any"), ("512x512", "maskable")
    }  # fmt: skip
    for icon in pngs:
        size = int(icon["sizes"].split("x")[0])
        share = 0.72 if icon["purpose"] == "maskable" else 1.0
        with image.open(STATIC / icon["src"]) as kept:
            assert kept.size == (size, size)
            got, wanted = (each.convert("RGBA").resize((64, 64)).tobytes() for each in (kept, drawn(size, share)))
            assert max(abs(a - b) for a, b in zip(got, wanted, strict=True)) < 40, icon["src"]
            if share < 1:
                ground = kept.convert("RGBA").getpixel((0, 0))
                spots = ((x, y) for x in range(0, size, 8) for y in range(0, size, 8))
                far = [
                    spot for spot in spots if (spot[0] - size / 2) ** 2 + (spot[1] - size / 2) ** 2 > (0.4 * size) ** 2
                ]
                assert {kept.convert("RGBA").getpixel(spot) for spot in far} == {ground}
