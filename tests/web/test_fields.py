"""Whether what is asked is as declared, and that a refusal names the field and says what to send."""

import pytest

from ampleroom.web import engine
from ampleroom.web.fields import Field, WrongField, checked
from ampleroom.web.question_fields import QUESTIONS
from tests.web.helpers import SHEET, STUDIO

REFUSED = [
    ("box", {"sheet": SHEET}, "'box' is missing: send text"),
    ("box", {"sheet": SHEET, "box": None}, "'box' is missing: send text"),
    ("box", {"sheet": SHEET, "box": 1}, "'box' is not text; send text such as J1"),
    ("job", {"sheet": ["a"]}, "'sheet' is not text; send text"),
    ("job", {"sheet": SHEET, "edition": "2020"}, "'edition' is not a whole number; send a whole number such as 2017"),
    ("job", {"sheet": SHEET, "edition": True}, "'edition' is not a whole number; send a whole number such as 2017"),
    ("job", {"sheet": SHEET, "edition": 2020.5}, "'edition' is not a whole number; send a whole number such as 2017"),
    ("job", {"sheet": "box \ud800"}, "'sheet' holds half a character, which cannot be kept"),
    ("packet", {"sheet": SHEET, "paper": "legal"}, "'paper' cannot be 'legal'; send a4 or letter"),
    ("packet", {"sheet": SHEET, "only_failing": 1}, "'only_failing' is not true or false; send true or false"),
    ("plan", {"sheet": SHEET, "limits": []}, "'limits' is not an object; send an object"),
    ("plan", {"sheet": SHEET, "limits": {"most_kinds": -1}}, "'most_kinds' is -1; send a whole number, 0 or more"),
    ("plan", {"sheet": SHEET, "limits": {"margin": 2}}, "'margin' is not text; send text such as 2.25"),
    ("plan", {"sheet": SHEET, "limits": {"margin": "a lot"}}, "'margin' is not a number; send in3 such as 2.25"),
    ("plan", {"sheet": SHEET, "limits": {"margin": "nan"}}, "'margin' must be from 0 to under 1000 in3, such as 2.25"),
    ("against", {"sheet": SHEET}, "'against' is missing: send a whole number"),
    ("edit", {"sheet": SHEET}, "'edit' is missing: send an object"),
    ("edit", {"sheet": SHEET, "edit": {}}, "'do' is missing: send text"),
    ("edit", {"sheet": SHEET, "edit": {"do": "run-count", "count": []}},
     "'count' is not a whole number or text; send a whole number or text"),
]  # fmt: skip


@pytest.mark.parametrize(("action", "data", "words"), REFUSED)
def test_a_refusal_names_the_field_and_says_what_to_send(action, data, words):
    assert engine.answer(action, data) == {"error": words, "kind": "question"}


def test_what_is_not_declared_is_passed_over_and_null_is_as_if_it_were_not_there():
    plain = engine.answer("job", {"sheet": STUDIO})
    assert engine.answer("job", {"sheet": STUDIO, "edition": None, "stock": 7, "wish": []}) == plain


def test_a_whole_number_written_with_a_point_is_one():
    assert engine.answer("job", {"sheet": SHEET, "edition": 2017.0}) == engine.answer(
        "job", {"sheet": SHEET, "edition": 2017}
    )


def test_limits_hold_on_both_sides():
    fields = {"size": Field(("whole number",), least=1, most=9), "name": Field(("text",), longest=3)}
    for good in ({"size": 1}, {"size": 9}, {"name": "abc"}, {}):
        checked(good, fields)
    for bad, words in (
        ({"size": 0}, "from 1 to 9"),
        ({"size": 10}, "from 1 to 9"),
        ({"name": "abcd"}, "4 characters; send at most 3"),
    ):
        with pytest.raises(WrongField, match=words):
            checked(bad, fields)


def test_every_question_refuses_a_wrong_type_in_every_field():
    for action, fields in QUESTIONS.items():
        for name in fields:
            good = {"text": "x", "whole number": 1, "yes or no": True, "object": {"do": "set-title"}}
            data = {other: good[each.types[0]] for other, each in fields.items() if each.required}
            answer = engine.answer(action, {**data, name: [1]})
            assert answer["error"].startswith(f"'{name}' is not "), (action, name, answer)
