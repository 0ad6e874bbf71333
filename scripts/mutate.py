"""Changes the rules and the numbers of the book in small ways, and sees that the tests notice each of them.

    python scripts/mutate.py                     all of rules/, editions/ and their tables
    python scripts/mutate.py grounds raceways    only files whose name has one of these words
    python scripts/mutate.py --list grounds      what would be changed, and nothing run
    python scripts/mutate.py --fresh grounds     every mutant in a process of its own

A mutant of the code is one comparison, sum, condition, constant, word, returned value or statement changed; a mutant of
the tables is one number changed by one unit of its last place, or true for false. It is killed when a test fails.

Everything happens in a copy of the tree in a temporary folder. All tests are run once to see which lines and which
tables each of them uses. Then they are collected once, and for each mutant the process forks, changes the functions,
constants or tables in place and runs the tests that use them, the likeliest first, to the first failure. What survives
that is tried again in a new process that reads the changed file, for some things are worked out once and kept.
Survivors are printed with their place and change; those told in docs/testing.md, and why no test can or need notice
them, are marked. Exit status 1 if there are others.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import copy
import gc
import json
import os
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import tomllib
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from importlib import import_module
from itertools import accumulate, count
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any

import coverage

ROOT = Path(__file__).resolve().parent.parent
MUTATED = (
    "src/ampleroom/rules/**/[!p]*.py",
    "src/ampleroom/rules/page.py",
    "src/ampleroom/editions/**/*.py",
    "src/ampleroom/rules/**/page.py",
    "src/ampleroom/**/table.toml",
    "src/ampleroom/editions/lists/*.toml",
)
"""What decides answers comes first, so that a run cut short has tried that."""
QUICK = (
    *("tests/editions", "tests/rules", "tests/acceptance", "tests/explain"),
    *("tests/test_questions.py", "tests/cli/test_rule.py"),
)
"""The tests tried in place."""
SLOW = (
    *(
        "tests/test_frozen.py",
        "tests/test_kinds.py",
        "tests/job",
        "tests/test_docs_sheet.py",
        "tests/cli/test_check.py",
    ),
    *("tests/cli/test_names.py", "tests/test_alike_boxes.py", "tests/test_surplus.py"),
    *("tests/test_against_naive.py", "tests/test_properties.py", "tests/test_bounds.py"),
)
"""What is tried besides in a new process."""
EXAMPLES, SEED = "60", "20"
"""So many random jobs for each property, always the same."""
SECONDS = 30
"""Of the processor's time for one mutant in a forked process; what takes longer never ends and counts as noticed."""
BYTES = 4 << 30
TRIED_SECONDS = 3.0
"""Of the processor's time, as watched: so long are tests tried in place, the likeliest; a new process tries all that
may notice."""
EXPLAINED = ROOT / "docs" / "testing.md"
PYTEST = ("-q", "-x", "--tb=no", "-p", "no:cacheprovider", "-p", "no:xdist", f"--hypothesis-seed={SEED}")

# ---- mutants of the code --------------------------------------------------------------------------------------------

COMPARED: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
REACHED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Add,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
}
CALLED = {"min": "max", "max": "min", "any": "all", "all": "any"}
NOT_WALKED = {"annotation", "returns", "type_params"}
Step = tuple[str, int | None]


@dataclass(frozen=True)
class Mutant:
    """One change. ``steps`` lead to the node of the code that ``node`` replaces; of a table ``text`` is the whole new
    file.
    """

    file: str
    line: int
    column: int
    before: str
    after: str
    steps: tuple[Step, ...] = ()
    node: ast.AST | None = None
    scope: str = ""
    """The function it lies in; empty: what is done once, when the module is read."""
    span: tuple[int, int] = (0, 0)
    """The lines of its statement, of one with a body its head."""
    text: str = ""
    around: str = ""
    table: str = ""
    row: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.before} -> {self.after}"

    @property
    def told(self) -> str:
        """As it stands in the documents, where lines may move; a number or word by what stands around it. The place is
        the file in its folder and the function: ``grounds/__init__.py ground_line``.
        """
        place = " ".join(filter(None, ("/".join(Path(self.file).parts[-2:]), self.scope)))
        around = ""
        if isinstance(self.node, ast.Constant):
            around = f" in {self.around}"
        elif self.before in ("return", "continue", "break"):
            around = f" after {self.around}"
        return f"{place}: {self.before}{around} -> {self.after}"


def code_mutants(file: str, text: str, every: int = 1) -> Iterator[Mutant]:
    """Every change, or every N-th, of a module."""
    tree = ast.parse(text)
    numbers = count()
    lines = text.splitlines()
    again = {function: assigned_again(function) for function in ast.walk(tree) if is_function(function)}

    def walk(
        node: ast.AST, steps: tuple[Step, ...], scope: str, fixed: str, inside: ast.AST, span: tuple[int, int]
    ) -> Iterator[Mutant]:
        """``scope`` is the name so far, ``fixed`` that of the outermost function."""
        if isinstance(node, ast.stmt):
            body = getattr(node, "body", [])
            span = node.lineno, body[0].lineno - 1 if body and body[0].lineno > node.lineno else node.end_lineno or 0
        for changed in changes(node, again.get(inside, frozenset())):
            if next(numbers) % every:
                continue
            # a bare return says too little of its place: the line before it says more
            back = 2 if isinstance(node, ast.Return | ast.Continue | ast.Break) and shown(node).isalpha() else 1
            around = lines[getattr(node, "lineno", back) - back].strip()[:60]
            place: Any = node.target if isinstance(node, ast.comprehension) else node
            yield Mutant(
                file,
                place.lineno,
                place.col_offset + 1,
                shown(node),
                shown(changed),
                steps,
                changed,
                fixed,
                span,
                around=around,
            )
        if is_function(node) or isinstance(node, ast.ClassDef):
            scope = f"{scope}.{node.name}" if scope else node.name  # type: ignore[attr-defined]
        for field, value in ast.iter_fields(node):
            if field in NOT_WALKED:
                continue
            within = is_function(node) and field == "body"
            for index, child in enumerate(value) if isinstance(value, list) else [(None, value)]:
                if isinstance(child, ast.AST) and not is_left_alone(child):
                    outer = fixed or (scope if within else "")
                    yield from walk(child, (*steps, (field, index)), scope, outer, node if within else inside, span)

    yield from walk(tree, (), "", "", tree, (0, 0))


def is_function(node: ast.AST) -> bool:
    return isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)


def is_left_alone(node: ast.AST) -> bool:
    """Docstrings, types, lists of exports: no answer comes of them; and the sheets that show a rule, which are
    tests.
    """
    match node:
        case ast.Expr(value=ast.Constant(value=str())) | ast.Import() | ast.ImportFrom():
            return True
        case ast.If(test=ast.Name(id="TYPE_CHECKING")):
            return True
        case ast.Subscript(value=ast.Name(id="Literal")) | ast.Call(func=ast.Name(id="TypeVar")):
            return True
        case ast.Assign(targets=[ast.Name(id=name)]) if name == "__all__" or name.endswith("EXAMPLE"):
            return True
    return False


def assigned_again(function: ast.AST) -> frozenset[str]:
    """Names assigned more than once: an assignment left out then still leaves a value."""
    counts = Counter(node.id for node in ast.walk(function) if isinstance(node, ast.Name) and is_stored(node))
    return frozenset(name for name, times in counts.items() if times > 1)


def is_stored(node: ast.Name) -> bool:
    return isinstance(node.ctx, ast.Store)


def changes(node: ast.AST, again: frozenset[str]) -> Iterator[ast.AST]:
    match node:
        case ast.Compare(ops=ops):
            for at, op in enumerate(ops):
                for other in COMPARED[type(op)]:
                    yield edited(node, ops=[*ops[:at], other(), *ops[at + 1 :]])
        case ast.BinOp(op=op) if type(op) in REACHED:
            yield edited(node, op=REACHED[type(op)]())
        case ast.AugAssign(op=op):
            if type(op) in REACHED:
                yield edited(node, op=REACHED[type(op)]())
            yield ast.Pass()
        case ast.BoolOp(op=op, values=values):
            yield edited(node, op=ast.Or() if isinstance(op, ast.And) else ast.And())
            if len(values) > 2:
                for at in range(len(values)):
                    yield edited(node, values=[*values[:at], *values[at + 1 :]])
            else:
                yield from values
        case ast.UnaryOp(op=ast.Not() | ast.USub(), operand=operand):
            yield operand
        case ast.IfExp(test=test) | ast.If(test=test) | ast.While(test=test):
            if not isinstance(test, ast.Compare | ast.UnaryOp):  # those are turned round themselves
                yield edited(node, test=ast.UnaryOp(ast.Not(), test))
        case ast.comprehension(ifs=ifs):
            for at in range(len(ifs)):
                yield edited(node, ifs=[*ifs[:at], *ifs[at + 1 :]])
        case ast.Constant(value=value) if (changed := constant(value)) is not None:
            yield ast.Constant(changed)
        case ast.Call(func=ast.Name(id=called)) if called in CALLED:
            yield edited(node, func=ast.Name(CALLED[called], ast.Load()))
        case ast.Return(value=None):
            yield ast.Pass()
        case ast.Return(value=value) if not (isinstance(value, ast.Constant) and value.value is None):
            yield ast.Return(ast.Constant(None))
        case ast.Expr(value=ast.Yield() | ast.YieldFrom()):
            yield ast.Expr(ast.YieldFrom(ast.Tuple([], ast.Load())))
        case ast.Expr() | ast.Raise() | ast.Continue() | ast.Break():
            yield ast.Pass()
        case ast.Assign(targets=[ast.Name(id=name)]) | ast.AnnAssign(target=ast.Name(id=name), value=ast.expr()):
            if name in again:
                yield ast.Pass()
        case ast.Assign():
            yield ast.Pass()


def edited(node: ast.AST, **fields: Any) -> ast.AST:
    other = copy.copy(node)
    for name, value in fields.items():
        setattr(other, name, value)
    return other


def constant(value: object) -> bool | int | str | None:
    """Another value of the same kind; None: leave it."""
    match value:
        case bool():
            return not value
        case int():
            return value + 1
        case str() if re.fullmatch(r"\d+(\.\d+)?", value):
            return bumped(value)
        case str():
            return "XX" + value
    return None


def shown(node: ast.AST) -> str:
    """A node on one line; of a statement with a body its head."""
    if isinstance(node, ast.comprehension):
        return "in " + ast.unparse(node.iter) + "".join(f" if {ast.unparse(test)}" for test in node.ifs)
    text = ast.unparse(ast.fix_missing_locations(copy.deepcopy(node)))
    head = text.split("\n")[0] if isinstance(node, ast.If | ast.While) else " ".join(text.split())
    return head if len(head) < 150 else head[:147] + "..."


def changed_tree(text: str, mutant: Mutant) -> ast.Module:
    tree = ast.parse(text)
    at: Any = tree
    for field, index in mutant.steps[:-1]:
        at = getattr(at, field) if index is None else getattr(at, field)[index]
    field, index = mutant.steps[-1]
    if index is None:
        setattr(at, field, mutant.node)
    else:
        getattr(at, field)[index] = mutant.node
    return ast.fix_missing_locations(tree)


# ---- mutants of the tables ------------------------------------------------------------------------------------------

STRING = re.compile(r'"[^"]*"')
NUMBER = re.compile(r"(?<![\w./-])\d+(?:\.\d+)?(?![\w/])|\b(?:true|false)\b")
IN_WORDS = re.compile(r"\d+(?:\.\d+)?")
NO_NUMBERS = {"source", "note", "says", "also", "asks", "choices", "offered"}
"""Keys whose words are for people."""
NO_ANSWERS = {"sources.toml"}
OF_MESSAGES = "tests/test_messages.py::test_no_message_changes_without_notice"
READ_AT_ONCE = {"compared", "readings"}
"""What is read when the modules are, and kept: all tests use it, and only a new process reads it again."""
ONLY_WORDS = {"readings.toml"}
"""What is quoted there is for people, too."""


def table_mutants(file: str, text: str, every: int = 1) -> Iterator[Mutant]:
    """Every number of a table, or every N-th, by one more of its last place, those in sizes and citations too."""
    if Path(file).name in NO_ANSWERS:
        return
    numbers = count()
    table, start = "", 0
    for number, line in enumerate(text.splitlines(keepends=True), 1):
        if head := re.match(r"\[\[?([\w.]+)", line):
            table = head[1] if Path(file).name == "table.toml" else f"{Path(file).stem}.{head[1].split('.')[0]}"
        written = line.split("#", 1)[0] if '"' not in line else line
        row = (table, *(word.strip('"') for word in STRING.findall(line)))
        for begin, end, after in changed_numbers(written):
            if '"' in line[:begin] and Path(file).name in ONLY_WORDS:
                continue
            if next(numbers) % every:
                continue
            other = text[: start + begin] + after + text[start + end :]
            try:
                tomllib.loads(other)
            except tomllib.TOMLDecodeError:
                continue  # the name of a row that is there already
            around = line[max(0, begin - 28) : end + 6].strip()
            yield Mutant(
                file, number, begin + 1, f"{line[begin:end]} in '{around}'", after, text=other, table=table, row=row
            )
        start += len(line)


def changed_numbers(line: str) -> Iterator[tuple[int, int, str]]:
    strings = [found.span() for found in STRING.finditer(line)]
    comment = min((at for at in (m.start() for m in re.finditer("#", line)) if not within(at, strings)), default=None)
    for found in NUMBER.finditer(line, 0, len(line) if comment is None else comment):
        if not within(found.start(), strings):
            yield *found.span(), bumped(found[0])
    for begin, end in strings:
        key = re.findall(r"(\w+)\s*=\s*[\[\"]?[^=]*$", line[: begin + 1])
        if (key and key[-1] in NO_NUMBERS) or (comment is not None and begin > comment):
            continue
        if digits := IN_WORDS.search(line, begin, end):
            yield *digits.span(), bumped(digits[0])


def within(at: int, spans: list[tuple[int, int]]) -> bool:
    return any(begin <= at < end for begin, end in spans)


def bumped(number: str) -> str:
    if number in ("true", "false"):
        return {"true": "false", "false": "true"}[number]
    exact = Decimal(number)
    return str(exact + Decimal(1).scaleb(int(exact.as_tuple().exponent)))


# ---- what each test uses --------------------------------------------------------------------------------------------


MEASURED = ("rules", "editions", "explain")
"""The parts of the package whose lines are watched."""


@dataclass
class Used:
    """What one test used of our files, line by line, and of the tables; and the processor's seconds it took."""

    seconds: float
    lines: dict[str, list[int]]
    tables: list[str]


def run_item(item: Any) -> bool:
    """Whether a test passes, without telling anybody."""
    from _pytest.tmpdir import tmppath_result_key

    item.stash[tmppath_result_key] = {}  # a report writes it, and there is none
    try:
        try:
            item.ihook.pytest_runtest_setup(item=item)
            item.ihook.pytest_runtest_call(item=item)
        finally:  # what one failing test had set up would make all after it fail
            item.ihook.pytest_runtest_teardown(item=item, nextitem=None)
    except BaseException:
        return False
    return True


class Watch:
    """A plugin: runs its share of the tests once and writes down which of our lines and which tables each used."""

    def __init__(self, to: Path, part: int, parts: int) -> None:
        self.to = to
        self.part, self.parts = part, parts
        self.here = str(Path.cwd()) + "/"
        self.ours = self.here + "src/ampleroom/"

    def pytest_runtestloop(self, session: Any) -> bool:
        from ampleroom.editions.book import CodeBook
        from ampleroom.editions.tables import Table

        tables: set[str] = set()
        by_table, by_name = CodeBook.__getitem__, CodeBook.block

        def asked(book: CodeBook, table: Table[Any]) -> Any:
            tables.add(table.name)
            return by_table(book, table)

        def asked_by_name(book: CodeBook, name: str) -> dict[str, Any]:
            tables.add(name)
            return by_name(book, name)

        CodeBook.__getitem__ = asked  # type: ignore[method-assign]
        CodeBook.block = asked_by_name  # type: ignore[method-assign, assignment]
        books = all_books()
        found: dict[str, Used] = {}
        tracer = coverage.Coverage(
            data_file=None, config_file=False, include=[f"{self.ours}{part}/*" for part in MEASURED]
        )
        for item in session.items[self.part :: self.parts]:
            forget(books, MEASURED)  # a test that finds an answer kept by one before would seem not to use the rule
            tables.clear()
            start = time.process_time()
            tracer.start()
            tracer.switch_context(item.nodeid)
            passed = run_item(item)
            tracer.stop()
            if passed:
                found[item.nodeid] = Used(time.process_time() - start, {}, sorted(tables))
            else:
                print("left out, as it does not pass as things are:", item.nodeid, file=sys.__stderr__)
        data = tracer.get_data()
        for file in data.measured_files():
            for line, tests in data.contexts_by_lineno(file).items():
                for test in tests:
                    if test in found:
                        found[test].lines.setdefault(file.removeprefix(self.here), []).append(line)
        self.to.write_text(json.dumps({name: vars(used) for name, used in found.items()}))
        return True


# ---- changed in place -----------------------------------------------------------------------------------------------


def own_tests(path: Path) -> str:
    """The file of a module's own tests, or of a rule's: ``test_grounds.py``."""
    of_folder = path.name in ("__init__.py", "table.toml", "page.py")
    return f"test_{path.parent.name if of_folder else path.stem}.py"


def module_name(file: str) -> str:
    return file.removeprefix("src/").removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def all_books() -> list[Any]:
    """The code books there are now, such as those that test modules hold."""
    from ampleroom.editions.book import CodeBook

    return [one for one in gc.get_objects() if isinstance(one, CodeBook)]


def forget(books: list[Any], parts: tuple[str, ...] = ("",), read_again: bool = False) -> None:
    """Forget every answer kept so far: by code books, and by cached functions of all or some parts of the package. The
    tables as read stay, for they take long to read, unless ``read_again``.
    """
    from ampleroom.editions.tables import read_toml

    starts = tuple(f"ampleroom.{part}" for part in parts)
    for name, module in list(sys.modules.items()):
        if name.startswith(starts):
            for value in list(vars(module).values()):
                if hasattr(value, "cache_clear") and (value is not read_toml or read_again):
                    value.cache_clear()
    for book in books:
        for kept in (book._tables, book._blocks, book._standard, book._made, book.alike, book.shared):
            kept.clear()


def change_in_place(mutant: Mutant, books: list[Any]) -> bool:
    """Make the change in this process; false where only a new process can."""
    from ampleroom.editions.tables import read_toml

    if mutant.text:
        stem = Path(mutant.file).stem
        if stem in READ_AT_ONCE:
            return False
        poured(read_toml(str(Path(mutant.file).resolve())), tomllib.loads(mutant.text, parse_float=Decimal))
    else:
        module = import_module(module_name(mutant.file))
        tree = changed_tree(Path(mutant.file).read_text("utf-8"), mutant)
        done = change_function(module, tree, mutant) if mutant.scope else change_statement(module, tree, mutant)
        if not done:
            return False
    forget(books, read_again=mutant.scope in ("read_toml", "TableLoader.source_to_code"))
    return True


def poured(old: Any, new: Any) -> None:
    """Make a structure the other one, keeping its lists and dictionaries: others hold them."""
    if isinstance(old, dict):
        before = dict(old)
        old.clear()
        for key, value in new.items():
            old[key] = kept(before.get(key), value)
    else:
        before_list = list(old)
        old[:] = [kept(before_list[at] if at < len(before_list) else None, value) for at, value in enumerate(new)]


def kept(old: Any, new: Any) -> Any:
    if isinstance(old, dict | list) and type(old) is type(new):
        poured(old, new)
        return old
    return new


def change_function(module: Any, tree: ast.Module, mutant: Mutant) -> bool:
    code = named_code(compile(tree, module.__file__, "exec"), mutant.scope)
    held: Any = module
    for word in mutant.scope.split("."):
        held = vars(held).get(word) if isinstance(held, type) else getattr(held, word)
    for wrapped in ("fget", "make", "__func__", "__wrapped__"):
        held = getattr(held, wrapped, held)
    if not isinstance(held, FunctionType) or code is None or code.co_freevars != held.__code__.co_freevars:
        return False
    held.__code__ = code
    return True


def named_code(code: CodeType, name: str) -> CodeType | None:
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            if inner.co_qualname == name:
                return inner
            if name.startswith(inner.co_qualname + ".") and (found := named_code(inner, name)):
                return found
    return None


def change_statement(module: Any, tree: ast.Module, mutant: Mutant) -> bool:
    """Do one statement of a module again; the functions stay the objects that others hold."""
    at = mutant.steps[0][1]
    assert at is not None
    statement = tree.body[at]
    space = vars(module)
    compiled = compile(ast.Module([statement], []), module.__file__, "exec")
    match statement:
        case ast.FunctionDef(name=name):
            from ampleroom.rules import registry
            from ampleroom.rules.all_rules import IN_ORDER, RULES

            old = space[name]
            before = [rule for rule in registry._REGISTERED.values() if rule.function is old]
            for rule in before:
                del registry._REGISTERED[rule.name]
            exec(compiled, space)
            new, space[name] = space[name], old
            if not isinstance(old, FunctionType):
                return False
            old.__code__, old.__defaults__, old.__kwdefaults__ = new.__code__, new.__defaults__, new.__kwdefaults__
            for rule in before:  # the record stays the one that others hold, and says what the new one says
                again = registry.rule_in(module)
                rule.settle(**{field: getattr(again, field) for field in type(rule)._fields} | {"function": old})
                registry._REGISTERED[again.name] = rule
            RULES.clear()
            RULES.update({one.name: one for one in IN_ORDER})
        case ast.Assign(targets=[ast.Name(id=name)]) | ast.AnnAssign(target=ast.Name(id=name)):
            old = space[name]
            exec(compiled, space)
            for other in list(sys.modules.values()):
                if vars(other).get(name) is old:
                    setattr(other, name, space[name])
        case _:
            return False
    return True


# ---- trying ----------------------------------------------------------------------------------------------------------


class Try:
    """A plugin: with all tests collected, forks for every mutant and runs the tests that use what it changes."""

    def __init__(
        self, mutants: list[Mutant], used: dict[str, Used], tell: Callable[[Mutant, str], None], left: list[Mutant]
    ) -> None:
        self.mutants = mutants
        self.left = left
        self.used = used
        self.tell = tell
        self.kills: Counter[tuple[str, str]] = Counter()
        self.passes: dict[str, bool] = {}
        """Whether a test that failed passes in a fork with nothing changed: else its failure says nothing."""

    def pytest_runtestloop(self, session: Any) -> bool:
        items = {item.nodeid: item for item in session.items}
        self.books = all_books()
        gc.collect()
        gc.freeze()  # or every fork copies all there is when it first collects
        for mutant in self.mutants:
            chosen = chosen_tests(mutant, self.used, self.kills)
            if not mutant.table:
                so_far = accumulate(self.used[name].seconds for name in chosen)
                chosen = [name for name, seconds in zip(chosen, so_far, strict=True) if seconds < TRIED_SECONDS]
            while True:
                tried = [items[name] for name in chosen if name in items and self.passes.get(name, True)]
                verdict = in_a_fork(partial(self.noticed, mutant, tried))
                by = verdict.removeprefix("killed by ")
                if by in items and by not in self.passes:
                    self.passes[by] = in_a_fork(partial(self.unchanged, items[by])) == "passes"
                    if not self.passes[by]:
                        print("left out, as it fails alone with nothing changed:", by, file=sys.__stderr__, flush=True)
                        continue
                break
            if verdict.startswith("killed by "):
                self.kills[mutant.file, by] += 1
            elif not verdict.startswith("killed"):
                self.left.append(mutant)
            self.tell(mutant, verdict)
        return True

    def noticed(self, mutant: Mutant, items: list[Any]) -> str:
        try:
            if not change_in_place(mutant, self.books):
                return listed_text(mutant) or "unknown"
        except Exception:
            return "unknown"
        for item in items:
            if not run_item(item):
                return f"killed by {item.nodeid}"
        return listed_text(mutant) or "survived"

    def unchanged(self, item: Any) -> str:
        forget(self.books)
        return "passes" if run_item(item) else "fails"


def listed_text(mutant: Mutant) -> str:
    """What the list of texts that people meet would say: its test reads the files, which stay as they are here."""
    if mutant.text or not isinstance(mutant.node, ast.Constant):
        return ""
    from tests import messages

    listed = set(messages.LIST.read_text("utf-8").splitlines())
    changed = ast.unparse(changed_tree(Path(mutant.file).read_text("utf-8"), mutant))
    texts = {" ".join(text.split()) for text in messages.in_python(changed) if messages.is_message(text)}
    return "" if texts <= listed else f"killed by {OF_MESSAGES}"


_BY_LINE: dict[str, dict[int, list[str]]] = {}


def tests_by_line(used: dict[str, Used], file: str) -> dict[int, list[str]]:
    """The tests that pass each line of a file."""
    if file not in _BY_LINE:
        by_line = _BY_LINE[file] = {}
        for name, one in used.items():
            for line in one.lines.get(file, ()):
                by_line.setdefault(line, []).append(name)
    return _BY_LINE[file]


def chosen_tests(mutant: Mutant, used: dict[str, Used], kills: Counter[tuple[str, str]]) -> list[str]:
    """The tests that use what is changed, the likeliest to notice first."""
    if mutant.table:
        names = [name for name, one in used.items() if name.startswith("tests/editions") or mutant.table in one.tables]
    elif mutant.scope:
        first, last = mutant.span
        by_line = tests_by_line(used, mutant.file)
        names = list({name: None for line in range(first, last + 1) for name in by_line.get(line, ())})
    else:
        files = {mutant.file, "src/ampleroom/rules/registry.py", "src/ampleroom/explain/rule_page.py"}
        names = [name for name, one in used.items() if files & one.lines.keys()]
        names += [name for name in used if name.startswith("tests/rules/test_registry.py") and name not in names]
    own = own_tests(Path(mutant.file))

    def order(name: str) -> tuple[object, ...]:
        seconds = used[name].seconds
        alike = sum(word in name for word in mutant.row)
        registry = not mutant.scope and ("_registry.py" in name or "/test_rule.py" in name)
        near = 0 if own in name or registry else 1 if name.startswith(("tests/rules", "tests/editions")) else 2
        return (seconds > 0.5, -alike, -kills[mutant.file, name] if not mutant.row else 0, near, seconds)

    return sorted(names, key=order)


def in_a_fork(work: Callable[[], str]) -> str:
    """What a function says when it is called in a process of its own, which may crash or never end."""
    read, write = os.pipe()
    child = os.fork()
    if not child:
        os.close(read)
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS + 1))
        resource.setrlimit(resource.RLIMIT_AS, (BYTES, BYTES))
        with contextlib.suppress(BaseException):
            os.write(write, work().encode())
        os._exit(0)
    os.close(write)
    said = b""
    while part := os.read(read, 65536):
        said += part
    os.close(read)
    os.waitpid(child, 0)
    return said.decode() or "killed by its own end"


def in_a_new_process(mutant: Mutant, used: dict[str, Used]) -> str:
    """Write the changed file into the copy and run the tests as anybody would."""
    path = Path(mutant.file)
    before, times = path.read_text("utf-8"), path.stat()
    path.write_text(mutant.text or ast.unparse(changed_tree(before, mutant)), "utf-8")
    try:
        by_use = mutant.scope or (mutant.table and path.stem not in READ_AT_ONCE)
        chosen = chosen_tests(mutant, used, Counter()) if by_use else []
        names = chosen or list(used)  # what no test passes may be passed when the modules are read
        files = dict.fromkeys(name.partition("::")[0] for name in names)
        own = own_tests(path)
        near = [file for file in files if own in file or (mutant.table and file.startswith("tests/editions"))]
        if verdict := listed_text(mutant):
            return verdict
        for some in (near, [file for file in files if file not in near], SLOW):
            if not some:
                continue
            command = [sys.executable, "-c", IN_NEW, *PYTEST, *some]
            # two changes in one second, of one length, would share what Python keeps compiled
            bare = os.environ | {"PYTHONDONTWRITEBYTECODE": "1"}
            done = subprocess.run(command, capture_output=True, text=True, check=False, env=bare)
            if done.returncode:
                found = re.search(r"^(?:FAILED|ERROR) (\S+)", done.stdout, re.MULTILINE)
                return f"killed by {found[1] if found else f'a run that ended with {done.returncode}'}"
    finally:
        path.write_text(before, "utf-8")
        os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))  # what is kept compiled holds again
    return "survived"


IN_NEW = """
import resource, sys, pytest
from scripts.mutate import without_shrinking
resource.setrlimit(resource.RLIMIT_CPU, (600, 601))
without_shrinking()
sys.exit(pytest.main(sys.argv[1:]))
"""


def without_shrinking() -> None:
    """A failing example need not be made small: that it fails is enough."""
    from hypothesis import Phase, settings

    settings.register_profile("mutants", phases=[Phase.explicit, Phase.generate], database=None)
    settings.load_profile("mutants")


def pytest_with(plugin: object, paths: tuple[str, ...]) -> None:
    import pytest

    without_shrinking()
    pytest.main([*PYTEST, *paths], plugins=[plugin])


# ---- the whole run ---------------------------------------------------------------------------------------------------


def all_mutants(root: Path, words: tuple[str, ...], every: int = 1) -> list[Mutant]:
    found: list[Mutant] = []
    for path in dict.fromkeys(path for pattern in MUTATED for path in sorted(root.glob(pattern))):
        file = str(path.relative_to(root))
        if not words or any(word in file for word in words):
            make = table_mutants if path.suffix == ".toml" else code_mutants
            found += make(file, path.read_text("utf-8"), every)
    return found


def copied_tree(to: Path, commit: str) -> None:
    """The files git knows, as they stand now or in a commit."""
    if commit:
        to.mkdir()
        packed = subprocess.run(["git", "archive", commit], cwd=ROOT, capture_output=True, check=True).stdout
        subprocess.run(["tar", "x", "-C", str(to)], input=packed, check=True)
        return
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True, text=True).stdout
    for name in filter(None, listed.split("\0")):
        if (ROOT / name).is_file():
            (to / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, to / name)


def work(tree: Path, part: int, mutants: list[Mutant], fresh: bool, quick: bool) -> None:
    """One worker, in its own copy: says what became of each of its mutants, a line of JSON each."""
    os.chdir(tree)
    sys.path[:0] = [str(tree / "src"), str(tree)]
    used = {name: Used(**one) for name, one in json.loads((tree.parent / "used.json").read_text()).items()}
    known = read_verdicts(tree.parent / "known")
    mutants = [mutant for mutant in mutants if mutant.name not in known]
    left: list[Mutant] = []

    def tell(mutant: Mutant, verdict: str) -> None:
        print(json.dumps([mutant.name, verdict]), file=out, flush=True)

    with (tree.parent / f"told{part}").open("w") as out:
        if fresh:
            left += mutants
        else:
            pytest_with(Try(mutants, used, tell, left), QUICK)
        for mutant in left if fresh or not quick else ():
            tell(mutant, in_a_new_process(mutant, used))


def read_verdicts(file: Path) -> dict[str, str]:
    """What became of each mutant, by its name; the later word counts."""
    return dict(map(json.loads, file.read_text("utf-8").splitlines())) if file.exists() else {}


def forked(work: Callable[[], None]) -> int:
    child = os.fork()
    if not child:
        try:
            work()
        except BaseException:
            traceback.print_exc()
            os._exit(1)
        os._exit(0)
    return child


def watch(tree: Path, part: int, parts: int) -> None:
    os.chdir(tree)
    sys.path[:0] = [str(tree / "src"), str(tree)]
    pytest_with(Watch(tree.parent / f"used{part}.json", part, parts), QUICK)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("words", nargs="*", metavar="WORD")
    parser.add_argument("--list", action="store_true", help="only list them")
    parser.add_argument("--fresh", action="store_true", help="a new process for every mutant")
    parser.add_argument("--quick", action="store_true", help="survivors are not tried again, nor with random jobs")
    parser.add_argument("--every", type=int, default=1, metavar="N", help="only every N-th of a file")
    parser.add_argument("--killed", metavar="FILE", help="those an earlier run killed, not tried again; written anew")
    parser.add_argument("--used", metavar="FILE", help="what an earlier run saw the tests use, kept with --keep")
    parser.add_argument("--keep", metavar="FILE", help="keep what the tests were seen to use")
    parser.add_argument("--of", default="", metavar="COMMIT", help="a commit and not the tree as it stands")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    options = parser.parse_args()
    words = tuple(options.words)
    if options.list:
        for mutant in all_mutants(ROOT, words, options.every):
            print(mutant.name)
        return 0
    os.environ.update(AMPLEROOM_LONG=EXAMPLES, PYTHONHASHSEED="0")
    start = time.perf_counter()
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        trees = [Path(folder) / f"tree{number}" for number in range(options.workers)]
        for tree in trees:
            copied_tree(tree, options.of)
            os.environ["PYTHONPATH"] = "src:."
        if options.killed and Path(options.killed).exists():
            shutil.copy(options.killed, Path(folder) / "known")
        if options.used:
            shutil.copy(options.used, Path(folder) / "used.json")
        shares = [] if options.used else [Path(folder) / f"used{at}.json" for at in range(len(trees))]
        children = [forked(partial(watch, trees[at], at, len(trees))) for at in range(len(shares))]
        try:
            while children:
                os.waitpid(children[0], 0)
                del children[0]
            if not all(share.exists() for share in shares):
                print("the tests cannot be collected as things are", file=sys.stderr)
                return 2
            if shares:
                used = {name: one for share in shares for name, one in json.loads(share.read_text()).items()}
                (Path(folder) / "used.json").write_text(json.dumps(used))
            if options.keep:
                shutil.copy(Path(folder) / "used.json", options.keep)
            print(f"watched after {time.perf_counter() - start:.0f} s", file=sys.stderr, flush=True)
            mutants = all_mutants(trees[0], words, options.every)
            for at, tree in enumerate(trees):
                share = mutants[at :: len(trees)]
                children.append(forked(partial(work, tree, at, share, options.fresh, options.quick)))
            while children:
                os.waitpid(children[0], 0)
                del children[0]
        finally:
            for child in children:
                os.kill(child, signal.SIGTERM)
        verdicts = read_verdicts(Path(folder) / "known")
        for at in range(len(trees)):
            verdicts |= read_verdicts(Path(folder) / f"told{at}")
        if options.killed:
            killed = [json.dumps([name, word]) for name, word in verdicts.items() if word.startswith("killed")]
            Path(options.killed).write_text("".join(line + "\n" for line in killed), "utf-8")
        return told(mutants, verdicts, time.perf_counter() - start)


def told(mutants: list[Mutant], verdicts: dict[str, str], seconds: float) -> int:
    explained = Counter(line.strip() for line in EXPLAINED.read_text("utf-8").splitlines())
    survivors = [mutant for mutant in mutants if not verdicts.get(mutant.name, "untried").startswith("killed")]
    open_ones = []
    for mutant in survivors:  # a line in the document explains one of those that read alike
        explained[mutant.told.strip()] -= 1
        if explained[mutant.told.strip()] < 0:
            open_ones.append(mutant)
        print(f"{'survived' if mutant in open_ones else 'explained'}  {mutant.name}")
    print(
        f"{len(mutants)} mutants, {len(mutants) - len(survivors)} killed, {len(survivors) - len(open_ones)} explained, "
        f"{len(open_ones)} not explained, {seconds:.0f} s"
    )
    return int(bool(open_ones))


if __name__ == "__main__":
    sys.exit(main())
