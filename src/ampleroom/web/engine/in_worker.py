"""The engine in a worker of the page, which has its sheets by number: to carry the text of 4,000 boxes from the
browser's script to Python takes longer than to answer a tap, so each text is carried once.
"""

from __future__ import annotations

import json
from collections import OrderedDict

from ampleroom.web.engine import answer
from ampleroom.web.engine.change import patch_of

MOST_SHEETS = 8


class NumberedSheets:
    """The last sheets by the numbers the page gave them."""

    def __init__(self) -> None:
        self.texts: OrderedDict[int, str] = OrderedDict()

    def keep(self, number: int, text: str) -> None:
        """Keep a text under a number; of more than ``MOST_SHEETS`` the one asked for longest ago goes."""
        self.texts[number] = text
        self.texts.move_to_end(number)
        while len(self.texts) > MOST_SHEETS:
            self.texts.popitem(last=False)

    def answer(self, action: str, text: str, number: int, whole: str, after: int) -> str | None:
        """The answer to a question, both as JSON; None where no sheet has that number any more: ask with the whole.

        ``number``: of the sheet; 0: none or an empty one. ``whole``: its text, if it was not sent before.
        ``after``: the number the sheet gets that an edit makes, which comes back as a patch; 0: it comes back whole.
        """
        data = json.loads(text)
        if number:
            known = whole or self.texts.get(number)
            if known is None:
                return None
            self.keep(number, known)
            data["sheet"] = known
        answered = answer(action, data)
        if after and "error" not in answered:
            made = answered.pop("sheet")
            answered["patch"] = patch_of(data["sheet"], made)
            self.keep(after, made)
        return json.dumps(answered, ensure_ascii=False)


answer_by_number = NumberedSheets().answer
"""What the page's worker calls."""
