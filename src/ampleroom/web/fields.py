"""Whether what is asked is as declared: a mistyped wish is told by its field, never passed over in silence."""

from __future__ import annotations

from typing import Any

from ampleroom.errors import AmpleroomError
from ampleroom.record import TupleRecord

WORDS = {"text": "text", "whole number": "a whole number", "yes or no": "true or false", "object": "an object"}


class WrongField(AmpleroomError):
    """A field that is missing, of another type than declared, or past its limits."""


class Field(TupleRecord):
    """One field of a question: what it may be. ``null`` is as if the field were not there."""

    types: tuple[str, ...]
    """Of ``text``, ``whole number``, ``yes or no``, ``object``."""
    required: bool = False
    least: int | None = None
    most: int | None = None
    longest: int | None = None
    """Characters of a text."""
    one_of: tuple[str, ...] = ()
    like: str = ""
    """An example, for the words of a refusal."""
    fields: dict[str, Field] | None = None
    """Of an object."""


Fields = dict[str, Field]


def checked(data: dict[str, Any], fields: Fields) -> None:
    """Raise ``WrongField``, which names the field and says what to send instead, unless the data are as declared. A
    whole number written as 3.0 is replaced by 3.
    """
    for name, field in fields.items():
        value = data.get(name)
        if value is None:
            if field.required:
                raise WrongField(f"{name!r} is missing: send {wanted(field)}")
            continue
        if isinstance(value, float) and value.is_integer():
            value = data[name] = int(value)  # JSON knows one kind of number: 3.0 is 3
        if type_of(value) not in field.types:
            raise WrongField(f"{name!r} is not {wanted(field)}; send {wanted(field)}{such_as(field)}")
        if isinstance(value, str):
            check_text(name, value, field)
        elif isinstance(value, dict):
            checked(value, field.fields or {})
        elif (field.least is not None and value < field.least) or (field.most is not None and value > field.most):
            raise WrongField(f"{name!r} is {value}; send {wanted(field)}{reach(field)}")


def check_text(name: str, value: str, field: Field) -> None:
    """Raise ``WrongField`` unless a text is one of those allowed, short enough, and can be kept as UTF-8."""
    if field.one_of and value not in field.one_of:
        raise WrongField(f"{name!r} cannot be {value[:40]!r}; send {' or '.join(field.one_of)}")
    if field.longest is not None and len(value) > field.longest:
        raise WrongField(f"{name!r} has {len(value)} characters; send at most {field.longest}")
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        raise WrongField(f"{name!r} holds half a character, which cannot be kept") from None


def type_of(value: Any) -> str:
    """The type of a value of JSON, by its name in ``Field.types``, or another name."""
    match value:
        case bool():
            return "yes or no"
        case int():
            return "whole number"
        case float():
            return "number"
        case str():
            return "text"
        case dict():
            return "object"
        case _:
            return "list"


def wanted(field: Field) -> str:
    """The types a field may have, in the words of a refusal."""
    return " or ".join(WORDS[each] for each in field.types)


def such_as(field: Field) -> str:
    """A field's example, in the words of a refusal; empty where it has none."""
    return f" such as {field.like}" if field.like else ""


def reach(field: Field) -> str:
    """A number's limits, in the words of a refusal."""
    if field.most is None:
        return f", {field.least} or more"
    return f" from {field.least} to {field.most}"
