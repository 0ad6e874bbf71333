"""How it looks: the width, the colors, the caution at the end, and that no name writes to the terminal."""

import io
import os
import subprocess
import sys
import textwrap

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampleroom.cli import COMMANDS
from ampleroom.cli.paper import Paper, wrapped
from ampleroom.editions import READINGS
from ampleroom.rules.all_rules import RULES
from ampleroom.words import CAUTION
from tests.cli.helpers import ROOT, SHEETS, inside, outside, process_environment

REPORTS = [
    *(["check", f"{name}.job"] for name in ("passes", "fails", "open")),
    *(["show", "J1", f"{name}.job"] for name in ("passes", "fails", "open")),
    *(["fits", "J1", f"{name}.job"] for name in ("passes", "fails", "open")),
    *(["fits", "J1", f"{name}.job", "--cable", "12/2", "nm-b"] for name in ("passes", "fails", "open")),
    ["check", "passes.job", "--edition", "2026"],
]
LONG = "the far end of the drying shed behind the second kiln, over the door, past the third post from the slip"
ODD = (
    "job A \x1b[31mloft\n"
    "edition 2020\n"
    "box J\x1b[2J1 at \x1b[1mridge\n"
    "  square 4 x 1-1/2\n"
    "box K\x9b2J at \u202e door\n"
    "  switch #14 for \x9b2J\n"
)


@pytest.mark.parametrize("words", REPORTS, ids=" ".join)
def test_no_line_is_wider_than_the_terminal(folder, words):
    assert all(len(line) <= 60 for line in inside(*words).out.split("\n"))


@pytest.mark.parametrize("words", REPORTS, ids=" ".join)
def test_the_standing_caution_closes_every_report(folder, words):
    assert " ".join(inside(*words).out.split()).endswith(CAUTION)


@pytest.mark.parametrize("name", [*RULES, *READINGS])
def test_a_rule_is_told_in_the_width_of_the_terminal_and_closes_with_the_caution(folder, name):
    ran = inside("rule", name)
    assert ran.status == 0
    examples = RULES[name].example.split("\n") if name in RULES else []
    for line in ran.out.split("\n"):
        assert len(line) <= 60 or line.removeprefix("    ") in examples
    assert " ".join(ran.out.split()).endswith(CAUTION)


@given(
    st.lists(st.text("ab-", min_size=1, max_size=30), min_size=1, max_size=12),
    st.lists(st.sampled_from([" ", " ", "  ", "   "]), min_size=12, max_size=12),
    st.integers(8, 24),
    st.integers(0, 6),
    st.integers(0, 6),
)
@settings(max_examples=300, derandomize=True, deadline=None)
def test_a_paragraph_is_wrapped_as_the_standard_library_wraps_it(words, spaces, width, indent, hang):
    text = words[0] + "".join(space + word for space, word in zip(spaces, words[1:], strict=False))
    reference = textwrap.wrap(
        text,
        width,
        initial_indent=" " * indent,
        subsequent_indent=" " * hang,
        break_long_words=True,
        break_on_hyphens=False,
    )
    # before a word that is broken it leaves a space at the end of the line
    assert wrapped(text, width, " " * indent, " " * hang) == [line.rstrip(" ") for line in reference]


def test_long_names_and_descriptions_are_wrapped(folder):
    name = "J" + "1" * 90
    (folder / "long.job").write_text(
        f"job {LONG}, {LONG}\nedition 2020\nbox {name} at {LONG}\n  marked ? in3\n  switch #14 for {LONG}\n"
    )
    for words in (["check", "long.job"], ["show", name, "long.job"], ["fits", name, "long.job"]):
        assert all(len(line) <= 60 for line in inside(*words).out.split("\n"))


def test_a_narrow_terminal_gets_forty_columns_and_a_wide_one_a_hundred(folder, monkeypatch):
    for columns, width in (("5", 40), ("60", 60), ("300", 100), ("", 80)):
        monkeypatch.setenv("COLUMNS", columns)
        if columns or not sys.stdout.isatty():
            assert Paper(io.StringIO()).width == width


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_of_every_command_has_examples_and_fits_the_terminal(folder, command):
    ran = inside(command, "--help")
    assert ran.status == 0
    assert f"\nexamples:\n  ampleroom {command}" in ran.out
    assert all(len(line) <= 60 or line.startswith("  ampleroom ") for line in ran.out.split("\n"))


@pytest.mark.parametrize("words", [[], ["-h"], ["--help"], ["help"]])
def test_alone_it_tells_its_commands_with_examples_and_statuses(folder, words):
    ran = inside(*words)
    assert ran.status == 0
    assert all(f"\n  {command} " in ran.out for command in COMMANDS)
    assert "\nexamples:\n" in ran.out
    assert all(len(line) <= 60 for line in ran.out.split("\n"))


def test_the_version_is_one_line():
    assert inside("--version") == (0, "ampleroom 0.1.0\n", "")


# ---- color ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("words", REPORTS, ids=" ".join)
def test_nothing_is_colored_where_nobody_looks(folder, words):
    assert "\x1b" not in inside(*words).out


class Terminal(io.StringIO):
    def isatty(self):
        return True


@pytest.mark.parametrize(
    ("set_to", "colored"),
    [({}, True), ({"NO_COLOR": "1"}, False), ({"NO_COLOR": ""}, False), ({"TERM": "dumb"}, False)],
)
def test_a_terminal_is_colored_unless_somebody_asks_not_to(monkeypatch, set_to, colored):
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    for name, value in set_to.items():
        monkeypatch.setenv(name, value)
    out = Terminal()
    Paper(out).line("X FAILS", style="fails")
    assert out.getvalue() == ("\x1b[1;31mX FAILS\x1b[0m\n" if colored else "X FAILS\n")


def test_a_verdict_is_a_word_and_a_shape_besides_its_color(folder):
    assert "X FAILS  J1" in inside("check", "fails.job").out
    assert "? CHECK NEEDED  J1" in inside("check", "open.job").out
    assert "o PASSES  1 box" in inside("check", "passes.job").out


# ---- names from a sheet ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words",
    [
        ["check", "odd.job"],
        ["check", "odd.job", "--json"],
        ["show", "K\x9b2J", "odd.job"],
        ["show", "K\x9b2J", "odd.job", "--json"],
        ["show", "J1", "odd.job"],
        ["show", "J1", "odd.job", "--json"],
        ["fits", "K\x9b2J", "odd.job"],
        ["fits", "K\x9b2J", "odd.job", "--cable", "12/2 nm-b"],
        ["check", "twice.job"],
        ["check", "twice.job", "--json"],
        ["map", "odd.job"],
        ["map", "odd.job", "--json"],
        ["convert", "odd.job", "--to", "od\x1b[2Jd.csv"],
    ],
    ids=" ".join,
)
def test_no_name_in_a_sheet_can_write_to_the_terminal(folder, words):
    (folder / "odd.job").write_text(ODD, "utf-8")
    (folder / "twice.job").write_text(ODD + ODD + "run J\x1b[2J1/\x1b[1m > Q\x1b[3m 12/2 nm-b\n", "utf-8")
    ran = inside(*words)
    assert all(letter.isprintable() or letter == "\n" for letter in ran.out + ran.err)


def test_no_file_name_can_write_to_the_terminal(folder):
    for words in (["check", "no\x1b[2J.job"], ["new", "a\x1b[2J"], ["new", "a\x1b[2J"], ["\x1b[2J"], ["\x1b[2J.job"]):
        ran = inside(*words)
        assert all(letter.isprintable() or letter == "\n" for letter in ran.out + ran.err)


# ---- pipes ----------------------------------------------------------------------------------------------------------


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise on Windows")
def test_a_pipe_that_is_closed_early_is_no_error(folder):
    boxes = "".join(
        f"box B{n} at the sorting bench, bay {n}\n  device 3 x 2 x 1-1/2\n  2 x receptacle #12\n" for n in range(3000)
    )
    (folder / "many.job").write_text("edition 2020\n" + boxes)
    command = [sys.executable, "-m", "ampleroom", "check", "many.job"]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=process_environment()
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.read(10)
        process.stdout.close()
        told = process.stderr.read()
        assert process.wait(60) == 141
    assert told == b""


def test_a_terminal_that_knows_no_such_letters_gets_question_marks(folder):
    (folder / "letters.job").write_text(
        "job Łoft\nedition 2020\nbox Ł1 at 水\n  square 4 x 1-1/2\n  switch #12\n", "utf-8"
    )
    ran = outside("check", "letters.job", PYTHONIOENCODING="ascii")
    assert (ran.status, ran.err) == (0, "")
    assert "?oft" in ran.out


def test_the_package_is_run_by_its_name(folder):
    assert (ROOT / "src" / "ampleroom" / "__main__.py").exists()
    assert outside("check", "passes.job").out == outside("check", "passes.job", NO_COLOR="1").out
    assert set(SHEETS) >= {"passes"}
