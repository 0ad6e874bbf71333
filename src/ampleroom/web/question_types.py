"""Of what kind everything is that a question brings: a mistyped wish is told, never passed over in silence."""

from __future__ import annotations

from typing import Any

from ampleroom.errors import AmpleroomError

Kinds = dict[str, tuple[type, ...]]

QUESTION: Kinds = {
    **dict.fromkeys(
        ("sheet", "box", "kind", "stock", "what", "name", "content", "paper", "job", "question", "adopted"), (str,)
    ),
    **dict.fromkeys(("edition", "against", "choose"), (int,)),
    **dict.fromkeys(("solver", "only_failing"), (bool,)),
    **dict.fromkeys(("limits", "edit"), (dict,)),
}
LIMITS: Kinds = {
    **dict.fromkeys(("no_plaster", "only_in_stock"), (bool,)),
    **dict.fromkeys(("spare", "margin"), (str,)),
    "most_kinds": (int,),
}
EDIT: Kinds = {
    **dict.fromkeys(("box", "line", "cable", "to", "space", "way", "how", "name", "at", "title", "text"), (str,)),
    **dict.fromkeys(("index", "edition"), (int,)),
    "count": (int, str),
}
WORDS = {str: "a text", int: "a whole number", bool: "true or false", dict: "an object"}


class WrongKind(AmpleroomError):
    """Something of another kind than is taken in its place."""


def checked(data: dict[str, Any], kinds: Kinds) -> None:
    """What is there is of its kind; ``null`` is as if it were not there."""
    for key, taken in kinds.items():
        if data.get(key) is not None and type(data[key]) not in taken:
            raise WrongKind(f"{key!r} is {' or '.join(WORDS[kind] for kind in taken)}")
