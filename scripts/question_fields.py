"""Write ``src/ampleroom/web/question_fields.py``: what ``question_types.py`` declares, as tables for a Python without
msgspec.

python3 scripts/question_fields.py            # after a change to question_types.py
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
OUT = ROOT / "src" / "ampleroom" / "web" / "question_fields.py"
TYPES = {"string": "text", "integer": "whole number", "boolean": "yes or no", "object": "object"}
HEAD = '''"""What each question and body may bring, by field.

Written by scripts/question_fields.py from question_types.py.
"""

from ampleroom.web.fields import Field, Fields

'''


def text_of_tables() -> str:
    """The module's text, before it is formatted."""
    from ampleroom.web.question_types import BODIES, QUESTIONS, schemas

    found = schemas()
    parts = [
        f"{name.upper()}: Fields = {fields_text(found[name])}\n" for name in ("Limits", "Edit")
    ]  # the others speak of them
    parts.append(
        f"QUESTIONS: dict[str, Fields] = {mapped({each: found[kind.__name__] for each, kind in QUESTIONS.items()})}\n"
    )
    parts.append(f"BODIES: dict[str, Fields] = {mapped({kind.__name__: found[kind.__name__] for kind in BODIES})}\n")
    return HEAD + "\n".join(parts)


def mapped(schemas: dict[str, dict[str, Any]]) -> str:
    return "{" + "".join(f"{name!r}: {fields_text(schema)}," for name, schema in schemas.items()) + "}"


def fields_text(schema: dict[str, Any]) -> str:
    rows = (f"{name!r}: {field_text(part, name in schema['required'])}," for name, part in schema["properties"].items())
    return "{" + "".join(rows) + "}"


def field_text(schema: dict[str, Any], required: bool) -> str:
    """One ``Field`` as Python; of a field that may be null, what it is else."""
    ways = [way for way in schema.get("anyOf", [schema]) if way.get("type") != "null"]
    if len(ways) == 1 and "anyOf" in ways[0]:
        ways = ways[0]["anyOf"]
    ref = next((way["$ref"].rsplit("/", 1)[1] for way in ways if "$ref" in way), "")
    types = ["object"] if ref else [TYPES[way.get("type", "string")] for way in ways]
    words = [repr(tuple(types))]
    merged = {key: value for way in (schema, *ways) for key, value in way.items()}
    if required:
        words.append("required=True")
    for key, ours in (("minimum", "least"), ("maximum", "most"), ("maxLength", "longest")):
        if key in merged:
            words.append(f"{ours}={merged[key]}")
    if "enum" in merged:
        words.append(f"one_of={tuple(merged['enum'])!r}")
    example = str((merged.get("examples") or [""])[0])
    if example and "\n" not in example:
        words.append(f"like={example!r}")
    if ref:
        words.append(f"fields={ref.upper()}")
    return f"Field({', '.join(words)})"


def main() -> None:
    import subprocess

    sys.path.insert(0, str(ROOT / "src"))
    OUT.write_text(text_of_tables(), "utf-8", newline="\n")
    subprocess.run([sys.executable, "-m", "ruff", "format", "-q", str(OUT)], check=True)
    print(f"{OUT.relative_to(ROOT)} is written")


if __name__ == "__main__":
    main()
