"""Every text a person may meet: what the sources of program, page, packet and tables hold that reads as words.

    python -m tests.messages          prints the list
    python -m tests.messages --write  keeps it in tests/messages.txt

Values that stand in a message are shown by their names: ``{name} needs {needs}``.
"""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
SOURCE = HERE.parent / "src" / "ampleroom"
LIST = HERE / "messages.txt"
WORDS = re.compile(r"[A-Za-z][a-z']*[a-z.,;:?!]* +(?:[a-z]+|\{)|\} +[a-z]{2,}")
"""Two words beside one another, or a value and a word: what reads as a sentence or a part of one."""
NOT_FOR_PEOPLE = re.compile(
    r"^(?:SELECT|INSERT|UPDATE|DELETE|CREATE|PRAGMA|BEGIN|COMMIT|VACUUM|ALTER|ATTACH)\b|<\w+[^>]*=|^def |^import "
)
"""Statements of SQL, tags, code."""
TABLE_TEXTS = {"asks", "means", "why", "note", "notes", "text", "caution", "says", "title", "choices", "plain", "words"}
"""Keys of the tables whose text is shown to people."""


@cache
def messages() -> list[str]:
    """All of them, each once, in the order of the alphabet."""
    texts: set[str] = set()
    for path in sorted(SOURCE.rglob("*")):
        if path.suffix == ".py":
            texts.update(in_python(path.read_text("utf-8")))
        elif path.suffix == ".toml":
            texts.update(in_tables(tomllib.loads(path.read_text("utf-8"))))
        elif path.suffix in (".js", ".mjs"):
            texts.update(in_script(path.read_text("utf-8")))
    return sorted({" ".join(text.split()) for text in texts if is_message(text)}, key=lambda text: (text.lower(), text))


def is_message(text: str) -> bool:
    return bool(WORDS.search(text)) and not NOT_FOR_PEOPLE.search(text)


def in_python(source: str) -> Iterator[str]:
    """Texts of a module that are no docstrings and no annotations."""
    tree = ast.parse(source)
    apart: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            apart.add(id(node.value))
        for field in ("annotation", "returns"):
            annotation = getattr(node, field, None)
            if annotation is not None:
                apart.update(map(id, ast.walk(annotation)))
        if isinstance(node, ast.JoinedStr):
            apart.update(id(part) for part in node.values)
    for node in ast.walk(tree):
        if id(node) in apart:
            continue
        if isinstance(node, ast.JoinedStr):
            yield "".join(map(part_text, node.values))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def part_text(part: ast.expr) -> str:
    """A part of a text with values in it: itself, or the name of the value."""
    if isinstance(part, ast.Constant):
        return str(part.value)
    assert isinstance(part, ast.FormattedValue)
    names = [node.id for node in ast.walk(part.value) if isinstance(node, ast.Name)]
    names += [node.attr for node in ast.walk(part.value) if isinstance(node, ast.Attribute)]
    return "{" + (names[-1] if names else "...") + "}"


def in_tables(value: Any, key: str = "") -> Iterator[str]:
    """Texts of a file of tables that are shown to people."""
    if isinstance(value, dict):
        for name, part in value.items():
            yield from in_tables(part, key if key in TABLE_TEXTS else name)
    elif isinstance(value, list):
        for part in value:
            yield from in_tables(part, key)
    elif isinstance(value, str) and key in TABLE_TEXTS:
        yield value


def in_script(source: str) -> Iterator[str]:
    """Texts of a script of the page; those in the values of a template too."""
    at = 0
    while at < len(source):
        found = OPENING.search(source, at)
        if found is None:
            return
        opening, at = found.group(), found.end()
        if opening[0] not in "/'\"`":
            continue
        if opening in COMMENTS:
            close = source.find(COMMENTS[opening], at)
            at = len(source) if close < 0 else close + len(COMMENTS[opening])
        elif opening == "`":
            text, at, inner = template(source, at)
            yield text
            for values in inner:
                yield from in_script(values)
        else:
            end = re.compile(rf"(?:[^{opening}\\]|\\.)*", re.DOTALL).match(source, at)
            assert end is not None  # it may be empty
            yield end.group().replace("\\'", "'")
            at = end.end() + 1


EXPRESSION = r"[(=,:!&|?]\s*/(?![/*])(?:[^/\\\n\[]|\\.|\[(?:[^\]\\\n]|\\.)*\])+/[a-z]*"
"""A regular expression of a script, which may hold quotes."""
OPENING = re.compile(rf"{EXPRESSION}|//|/\*|['\"`]")
COMMENTS = {"//": "\n", "/*": "*/"}


def template(source: str, at: int) -> tuple[str, int, list[str]]:
    """A template from behind its first backtick: its text with the names of its values, where it ends, and the
    values.
    """
    text, inner = "", []
    while source[at] != "`":
        if source.startswith("${", at):
            start, depth, at = at + 2, 1, at + 2
            while depth:
                if source[at] == "`":
                    at = template(source, at + 1)[1]
                    continue
                depth += {"{": 1, "}": -1}.get(source[at], 0)
                at += 1
            value = source[start : at - 1]
            inner.append(value)
            names = re.findall(r"[A-Za-z_]\w*", re.sub(r"'[^']*'|`[^`]*`", "", value))
            text += "{" + (names[-1] if names else "...") + "}"
        else:
            text += source[at]
            at += 1
    return text, at + 1, inner


def written(texts: Iterable[str]) -> str:
    return "".join(f"{text}\n" for text in texts)


def main() -> None:
    if "--write" in sys.argv[1:]:
        LIST.write_text(written(messages()), "utf-8")
    else:
        print(written(messages()), end="")


if __name__ == "__main__":
    main()
