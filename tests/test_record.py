"""Records behave as the frozen dataclasses of the standard library do, and tuple records as its named tuples."""

from __future__ import annotations

import copy
import doctest
import pickle
import re
from dataclasses import dataclass, field
from dataclasses import replace as replaced
from pathlib import Path
from typing import Any, Generic, NamedTuple, TypeVar

import pytest

import ampleroom.record
from ampleroom.record import MOST_FIELDS, Record, RecordType, TupleRecord, TupleRecordType, aside, once, replace


class Stop(Record):
    name: str
    space: str = ""
    also: tuple[Any, ...] = ()
    line: int = aside(0)

    @property
    def full(self) -> str:
        return f"{self.name}/{self.space}"


@dataclass(frozen=True, slots=True)
class Reference:
    name: str
    space: str = ""
    also: tuple[Any, ...] = ()
    line: int = field(default=0, compare=False, repr=False)


GIVEN: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    (("J1",), {}),
    (("J1", "left"), {}),
    (("J1",), {"space": "left", "line": 4}),
    (("J1", "left", (1, 2), 5), {}),
    ((), {"name": "J2"}),
    (("j1",), {"also": (None,)}),
]
WRONG: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    ((), {}),
    (("J1", "", (), 0, 1), {}),
    (("J1",), {"name": "J2"}),
    (("J1",), {"nome": "J2"}),
]


def test_the_examples_in_its_description_run():
    assert doctest.testmod(ampleroom.record).failed == 0
    assert doctest.testmod(ampleroom.record).attempted >= 4


@pytest.mark.parametrize(("values", "named"), GIVEN)
def test_fields_defaults_and_print_are_those_of_a_dataclass(values: tuple[Any, ...], named: dict[str, Any]):
    ours, reference = Stop(*values, **named), Reference(*values, **named)
    for name in ("name", "space", "also", "line"):
        assert getattr(ours, name) == getattr(reference, name)
    assert repr(ours) == repr(reference).replace("Reference(", "Stop(")
    assert hash(ours) == hash(reference)


@pytest.mark.parametrize(("values", "named"), WRONG)
def test_wrong_arguments_are_refused_as_by_a_dataclass(values: tuple[Any, ...], named: dict[str, Any]):
    with pytest.raises(TypeError) as reference:
        Reference(*values, **named)
    with pytest.raises(TypeError) as ours:
        Stop(*values, **named)
    assert str(ours.value).removeprefix("Stop.") == str(reference.value).removeprefix("Reference.")


def test_two_are_equal_where_two_dataclasses_are():
    pairs = [(one, other) for one in GIVEN for other in GIVEN]
    ours = [Stop(*one[0], **one[1]) == Stop(*other[0], **other[1]) for one, other in pairs]
    reference = [Reference(*one[0], **one[1]) == Reference(*other[0], **other[1]) for one, other in pairs]
    assert ours == reference
    assert Stop("J1") != ("J1", "", ())


def test_replace_changes_what_it_is_told_and_nothing_else():
    stop, reference = Stop("J1", "left", (1,), 7), Reference("J1", "left", (1,), 7)
    changed, known = replace(stop, space="right"), replaced(reference, space="right")
    assert (changed.name, changed.space, changed.also, changed.line) == ("J1", "right", (1,), 7)
    assert (known.name, known.space, known.also, known.line) == ("J1", "right", (1,), 7)
    assert stop.space == "left"
    with pytest.raises(TypeError):
        replace(stop, nome="J2")


def test_a_record_does_not_change():
    stop = Stop("J1")
    for change in (lambda: setattr(stop, "name", "J2"), lambda: setattr(stop, "new", 1), lambda: delattr(stop, "name")):
        with pytest.raises(AttributeError, match="a Stop does not change"):
            change()
    assert not hasattr(stop, "__dict__")


def test_copies_and_pickles_are_the_same_record():
    stop = Stop("J1", "left", ([],), 7)
    for again in (copy.copy(stop), copy.deepcopy(stop), pickle.loads(pickle.dumps(stop))):
        assert again == stop
        assert (again.line, again.full) == (7, "J1/left")


def test_a_record_is_matched_by_its_fields():
    match Stop("J1", "left"):
        case Stop(name, space):
            assert (name, space) == ("J1", "left")
        case _:
            pytest.fail("no match")


def test_a_record_without_fields_equals_its_like():
    class Nothing(Record):
        pass

    class Neither(Record):
        pass

    assert Nothing() == Nothing()
    assert Nothing() != Neither()
    assert hash(Nothing()) == hash(Nothing())


def test_what_is_worked_out_once_is_no_field():
    asked = []

    class Sum(Record):
        one: int
        two: int = 0

        @once
        def total(self) -> int:
            """Both."""
            asked.append(self)
            return self.one + self.two

    two = Sum(1, 1)
    assert (two.total, two.total, len(asked)) == (2, 2, 1)
    assert two == Sum(1, 1)
    assert repr(two) == repr(Sum(1, 1))
    assert replace(two, two=5).total == 6
    assert Sum.total.__doc__ == "Both."


SOURCE = Path(ampleroom.__file__).parent


def test_one_kind_of_record_serves_everywhere_but_for_the_questions_of_the_page():
    other = re.compile(r"^(?:from|import) (?:dataclasses|attrs?|pydantic)\b|\bmsgspec\.Struct\b", re.MULTILINE)
    with_others = {path.name for path in SOURCE.rglob("*.py") if other.search(path.read_text("utf-8"))}
    assert with_others == {"question_types.py"}


V = TypeVar("V")


class Reach(TupleRecord, Generic[V]):
    """How far."""

    name: str
    feet: V
    also: tuple[Any, ...] = ()
    line: int = 0

    @property
    def full(self) -> str:
        return f"{self.name}:{self.feet}"


class ReferenceReach(NamedTuple):
    name: str
    feet: Any
    also: tuple[Any, ...] = ()
    line: int = 0


REACHES: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    (("J1", 8), {}),
    (("J1", 8, (1,)), {"line": 3}),
    ((), {"feet": None, "name": "J2"}),
]
NO_REACHES: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    (("J1",), {}),
    (("J1", 8, (), 0, 1), {}),
    (("J1", 8), {"name": "J2"}),
    (("J1", 8), {"yards": 3}),
]


@pytest.mark.parametrize(("values", "named"), REACHES)
def test_a_tuple_record_is_what_a_named_tuple_is(values: tuple[Any, ...], named: dict[str, Any]):
    ours, reference = Reach(*values, **named), ReferenceReach(*values, **named)
    assert tuple(ours) == tuple(reference)
    assert hash(ours) == hash(reference)
    assert repr(ours) == repr(reference).replace("ReferenceReach(", "Reach(")
    for name in ("name", "feet", "also", "line"):
        assert getattr(ours, name) == getattr(reference, name)
    assert tuple(ours._replace(feet=9, also=(2,))) == tuple(reference._replace(feet=9, also=(2,)))
    assert type(ours._replace(feet=9)) is Reach
    assert ours._fields == reference._fields
    assert Reach.__match_args__ == ReferenceReach.__match_args__
    assert ours.full == f"{ours.name}:{ours.feet}"
    for again in (copy.copy(ours), copy.deepcopy(ours), pickle.loads(pickle.dumps(ours))):
        assert type(again) is Reach
        assert again == ours


@pytest.mark.parametrize(("values", "named"), NO_REACHES)
def test_a_tuple_record_refuses_what_a_named_tuple_refuses(values: tuple[Any, ...], named: dict[str, Any]):
    with pytest.raises(TypeError) as reference:
        ReferenceReach(*values, **named)
    with pytest.raises(TypeError) as ours:
        Reach(*values, **named)
    assert str(ours.value).removeprefix("Reach.") == str(reference.value).removeprefix("ReferenceReach.")


def test_a_tuple_record_does_not_change():
    reach = Reach("J1", 8)
    with pytest.raises(AttributeError):
        reach.feet = 9  # type: ignore[misc]
    with pytest.raises(ValueError, match="a Reach has no yards"):
        reach._replace(yards=3)  # type: ignore[call-arg]
    assert not hasattr(reach, "__dict__")


def test_a_class_made_of_a_tuple_record_has_its_fields():
    class Long(Reach[int]):
        @property
        def feet_and_line(self) -> int:
            return self.feet + self.line

    assert Long("J1", 8, line=2).feet_and_line == 10
    assert not hasattr(Long("J1", 8), "__dict__")


def test_more_fields_than_there_is_room_for_are_refused_and_none_is_lost():
    def fields(number: int) -> dict[str, Any]:
        return {"__annotations__": {f"field{n}": "int" for n in range(number)}}

    most = TupleRecordType("Most", (TupleRecord,), fields(MOST_FIELDS))
    assert most(*range(MOST_FIELDS)).field39 == 39
    with pytest.raises((ValueError, IndexError)):
        TupleRecordType("TooMany", (TupleRecord,), fields(MOST_FIELDS + 1))
    with pytest.raises((ValueError, IndexError)):
        RecordType("TooMany", (Record,), fields(MOST_FIELDS + 1))
