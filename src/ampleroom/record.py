"""Records: frozen classes with slots, of which a program may have many and still start at once.

The standard library's ``dataclass`` writes and compiles some eight functions for each class. For the classes of a job
that took longer, in every cold ``check``, than to read the job and judge it (see docs/why.md). Records compile one
``__init__`` for each number of fields, and share the rest. ``TupleRecord`` does the same for named tuples.

>>> class Stop(Record):
...     name: str
...     space: str = ""
...     line: int = aside(0)
>>> stop = Stop("J1", line=3)
>>> stop
Stop(name='J1', space='')
>>> stop == Stop("J1", line=8)
True
>>> replace(stop, space="left")
Stop(name='J1', space='left')
"""

from __future__ import annotations

from collections import namedtuple
from collections.abc import Callable, Iterable
from functools import cache
from operator import attrgetter
from types import CodeType, FunctionType
from typing import TYPE_CHECKING, Any, Generic, TypeVar, dataclass_transform, overload

if TYPE_CHECKING:
    from typing import NamedTuple as TupleRecord

__all__ = ["Record", "RecordType", "TupleRecord", "aside", "late", "once", "replace", "source_of"]

V = TypeVar("V")


class _Aside:
    """The default of a field that stands aside."""

    def __init__(self, default: Any) -> None:
        self.default = default


def aside(default: Any) -> Any:
    """The default of a field that takes no part when records are compared or printed, such as where one was written."""
    return _Aside(default)


class once(Generic[V]):  # noqa: N801  (read as ``@once``, beside ``@property``)
    """A property of a record, computed on first use and kept with it. It is no field: not compared, printed, copied or
    passed on by ``replace``.
    """

    def __init__(self, make: Callable[[Any], V]) -> None:
        self.make = make
        self.slot = f"kept_{make.__name__}"
        self.__doc__ = make.__doc__

    @overload
    def __get__(self, record: None, owner: type) -> once[V]: ...
    @overload
    def __get__(self, record: object, owner: type) -> V: ...
    def __get__(self, record: object | None, owner: type) -> once[V] | V:
        if record is None:
            return self
        try:
            kept: V = getattr(record, self.slot)
        except AttributeError:
            kept = self.make(record)
            object.__setattr__(record, self.slot, kept)
        return kept


class RecordType(type):
    """Makes a class of records from its annotations, in their order; fields without a default come first."""

    _fields: tuple[str, ...]
    _compared: tuple[str, ...]
    _content: Callable[[Any], Any]
    """What stands in the compared fields of a record."""

    def __new__(kind, name: str, bases: tuple[type, ...], body: dict[str, Any]) -> RecordType:
        fields = tuple(body.get("__annotations__", ()))
        defaults_by_field = {field: body.pop(field) for field in fields if field in body}
        apart = {field for field, default in defaults_by_field.items() if isinstance(default, _Aside)}
        compared = tuple([field for field in fields if field not in apart])
        content = attrgetter(*compared) if compared else type
        body |= {"_fields": fields, "_compared": compared, "_content": content, "__match_args__": fields}
        slots = fields + tuple([value.slot for value in body.values() if isinstance(value, once)])
        body.setdefault("__slots__", slots)
        if not fields or "__init__" in body:
            return super().__new__(kind, name, bases, body)
        setters: dict[str, Any] = {}
        defaults = [
            default.default if isinstance(default, _Aside) else default for default in defaults_by_field.values()
        ]
        body["__init__"] = _named(_setting(len(fields)), fields, setters, "__init__", defaults)
        made = super().__new__(kind, name, bases, body)
        setters |= zip(PUT[: len(fields)], [vars(made)[field].__set__ for field in fields], strict=True)
        return made


MOST_FIELDS = 40
PUT = [f"put_{n}" for n in range(MOST_FIELDS)]
"""The names under which an ``__init__`` finds what sets its fields: the descriptor of each slot. The ``__setattr__`` of
a frozen record does not stand in its way."""


def _named(
    code: CodeType, fields: tuple[str, ...], names: dict[str, Any], name: str, defaults: Iterable[Any]
) -> Callable[..., Any]:
    """A function of code that was compiled once for each number of fields, as compiling takes the time. Its arguments
    get their names here.
    """
    return FunctionType(code.replace(co_varnames=(code.co_varnames[0], *fields)), names, name, tuple(defaults))


@cache
def _setting(count: int) -> CodeType:
    """Code of an ``__init__`` that sets so many fields by ``put_0``, ``put_1`` ... of its globals."""
    fields = [f"field_{n}" for n in range(count)]
    lines = "".join(f"\n put_{n}(self, {field})" for n, field in enumerate(fields))
    return _code(f"def __init__(self, {', '.join(fields)}):{lines}", "__init__")


@cache
def _making(count: int) -> CodeType:
    """Code of a ``__new__`` that makes a tuple of so many fields."""
    fields = "".join(f"field_{n}, " for n in range(count))
    return _code(f"def __new__(kind, {fields}):\n return make(kind, ({fields}))", "__new__")


def _code(function: str, name: str) -> CodeType:
    names: dict[str, Any] = {}
    kept = getattr(__spec__.loader, "kept", None)  # of a command of the checkout, which keeps what it compiled
    exec(kept.compiled_text(function) if kept else function, names)
    code: CodeType = names[name].__code__
    return code


@dataclass_transform(frozen_default=True)
class Record(metaclass=RecordType):
    """What a record is: named fields, compared and printed by them, never changed."""

    __slots__ = ("_source",)  # of one that is worked out late

    def __getattr__(self, name: str) -> Any:
        """Asked only of a field that is not set: a record made ``late`` is worked out now."""
        if name not in type(self)._fields:
            raise AttributeError(f"a {type(self).__name__} has no {name!r}")
        make, record, argument = self._source
        type(self).__init__(self, *make(record, argument))
        return getattr(self, name)

    def settle(self, **values: Any) -> None:
        """Sets the fields, once, for a record that has an ``__init__`` of its own."""
        for field, value in values.items():
            object.__setattr__(self, field, value)

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return NotImplemented
        content = type(self)._content
        return bool(content(self) == content(other))

    def __hash__(self) -> int:
        return hash(type(self)._content(self))

    def __repr__(self) -> str:
        content = ", ".join(f"{field}={getattr(self, field)!r}" for field in type(self)._compared)
        return f"{type(self).__name__}({content})"

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"a {type(self).__name__} does not change; replace() makes another one")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"a {type(self).__name__} does not change; replace() makes another one")

    def __reduce__(self) -> tuple[Any, ...]:
        return _again, (type(self), tuple([getattr(self, field) for field in type(self)._fields]))


R = TypeVar("R", bound=Record)
"""Stands behind its class: a bound in quotes is compiled, and for that Python sets up a hundred classes of syntax."""


class TupleRecordType(type):
    """Makes a class of tuples with named fields from its annotations, as ``typing.NamedTuple`` does, in an eighth of
    the time.
    """

    def __new__(kind, name: str, bases: tuple[type, ...], body: dict[str, Any]) -> TupleRecordType:
        body.setdefault("__slots__", ())
        fields = tuple(body.get("__annotations__", ()))
        if not fields:  # made of one that has fields
            return super().__new__(kind, name, bases, body)
        defaults = [body.pop(field) for field in fields if field in body]
        new = _named(_making(len(fields)), fields, {"make": tuple.__new__}, "__new__", defaults)
        body |= zip(fields, PLACES[: len(fields)], strict=True)
        body |= {"__match_args__": fields, "_fields": fields, "__new__": new}
        return super().__new__(kind, name, bases, body)


_place: Any = type(vars(namedtuple("_", ("field",)))["field"])
PLACES = [_place(n, "") for n in range(MOST_FIELDS)]
"""What looks up the first, second ... field of any named tuple."""

if not TYPE_CHECKING:

    class TupleRecord(tuple, metaclass=TupleRecordType):
        """A named tuple, for what is made by the thousand; checkers take it for ``typing.NamedTuple``.

        >>> class Reach(TupleRecord):
        ...     name: str
        ...     feet: int = 0
        >>> Reach("J1")._replace(feet=8)
        Reach(name='J1', feet=8)
        """

        def _replace(self, **changes):
            """The tuple with some fields changed."""
            made = tuple.__new__(type(self), map(changes.pop, self._fields, self))
            if changes:
                raise ValueError(f"a {type(self).__name__} has no {', '.join(changes)}")
            return made

        def __repr__(self) -> str:
            fields = ", ".join([f"{field}={value!r}" for field, value in zip(self._fields, self, strict=True)])
            return f"{type(self).__name__}({fields})"

        def __getnewargs__(self):
            return tuple(self)


def _again(record: type[R], values: tuple[Any, ...]) -> R:
    """A record as it was, for ``copy`` and ``pickle``."""
    made = record.__new__(record)
    made.settle(**dict(zip(record._fields, values, strict=True)))
    return made


def late(record: R, make: Callable[[R, V], tuple[Any, ...]], argument: V, known: Iterable[str], **own: Any) -> R:
    """A record of the same class whose fields are ``make(record, argument)``, worked out when somebody first asks for
    one of them. Fields and kept properties in ``known`` are those of ``record``; ``own`` gives others at once.

    >>> class Box(Record):
    ...     name: str
    ...     line: int
    >>> late(Box("J1", 3), lambda box, lines: (box.name, box.line + lines), 2, ("name",))
    Box(name='J1', line=5)
    """
    made = object.__new__(type(record))
    put = object.__setattr__
    put(made, "_source", (make, record, argument))
    for name in known:
        put(made, name, getattr(record, name))
    for name, value in own.items():
        put(made, name, value)
    return made


def source_of(record: Record) -> tuple[Callable[..., Any], Any, Any] | None:
    """What a record made ``late`` is worked out from; None of any other."""
    try:
        source: tuple[Callable[..., Any], Any, Any] = record._source
    except AttributeError:
        return None
    return source


def replace(record: R, /, **changes: Any) -> R:
    """The record with some fields changed."""
    for field in type(record)._fields:
        if field not in changes:
            changes[field] = getattr(record, field)
    return type(record)(**changes)
