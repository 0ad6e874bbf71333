"""Records: frozen classes with slots, of which a program may have many and still start at once.

The standard library's ``dataclass`` writes and compiles some eight functions for each class. For the classes of a job that
took longer, in every cold ``check``, than to read the job and judge it (see docs/why.md). Records compile one
``__init__`` for each number of fields, and share the rest.

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

from collections.abc import Callable, Iterable
from functools import cache
from operator import attrgetter
from types import CodeType, FunctionType
from typing import Any, Generic, NamedTuple, TypeVar, dataclass_transform, overload

R = TypeVar("R", bound="Record")
V = TypeVar("V")


class _Aside(NamedTuple):
    default: Any


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
        slots = fields + tuple([value.slot for value in body.values() if isinstance(value, once)])
        made = super().__new__(kind, name, bases, {"__slots__": slots, "__match_args__": fields, **body})
        made._fields = fields
        made._compared = tuple(field for field in fields if field not in apart)
        made._content = attrgetter(*made._compared) if made._compared else type
        if fields and "__init__" not in body:
            defaults = (
                default.default if isinstance(default, _Aside) else default for default in defaults_by_field.values()
            )
            made.__init__ = _init(made, fields, defaults)  # type: ignore[misc]
        return made


def _init(record: type, fields: tuple[str, ...], defaults: Iterable[Any]) -> Callable[..., None]:
    """Sets every slot through its own descriptor, which a frozen record's ``__setattr__`` does not stand in the way of.

    Compiling takes the time, so the code is compiled once for each number of fields, and the names are put in later.
    """
    code = _setting(len(fields))
    space = {f"put_{n}": getattr(record, field).__set__ for n, field in enumerate(fields)}
    return FunctionType(code.replace(co_varnames=("self", *fields)), space, "__init__", tuple(defaults))


@cache
def _setting(count: int) -> CodeType:
    """Code of an ``__init__`` that sets so many fields by ``put_0``, ``put_1`` ... of its globals."""
    fields = [f"field_{n}" for n in range(count)]
    lines = "".join(f"\n put_{n}(self, {field})" for n, field in enumerate(fields))
    space: dict[str, Any] = {}
    exec(f"def __init__(self, {', '.join(fields)}):{lines}", space)
    code: CodeType = space["__init__"].__code__
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


def _again(record: type[R], values: tuple[Any, ...]) -> R:
    """A record as it was, for ``copy`` and ``pickle``."""
    made = record.__new__(record)
    made.settle(**dict(zip(record._fields, values, strict=True)))
    return made


def late(record: R, make: Callable[[R, V], tuple[Any, ...]], argument: V, known: Iterable[str]) -> R:
    """A record of the same class whose fields are ``make(record, argument)``, worked out when somebody first asks for one of them.
    Fields and kept properties in ``known`` are those of ``record``.

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
