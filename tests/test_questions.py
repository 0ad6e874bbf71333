"""Each fact is asked once, however many findings lean on it, with what its values settle in each."""

from __future__ import annotations

from decimal import Decimal

from ampleroom import Finding, Report, Verdict, check, read_job
from ampleroom.facts import Fact, fact_of
from ampleroom.job.model import Box
from ampleroom.packet.data import unknown_rows
from ampleroom.report import Question, questions_of
from ampleroom.where import Where
from ampleroom.worksheet import OpenFact
from tests.cli.helpers import inside

SHARED = """edition 2020
box A
  marked 12 in3
  clamps none
  switch #14
box B
  marked 8 in3
  clamps none
run A > B ?/2 nm-b
"""


def report(sheet: str, edition: int = 2020) -> Report:
    return check(read_job(sheet), edition)


def asked(sheet: str) -> list[Question]:
    return list(report(sheet).questions)


def by_value(question: Question) -> dict[str, dict[str, str]]:
    return {effect.subject: {value: verdict.word for value, verdict in effect.by_value} for effect in question.effects}


def test_a_cable_between_two_boxes_is_asked_once_with_what_each_size_settles_in_both():
    """A: 2 x 2.00 for the switch and 3 allowances of the cable, of 12.00 in3; B: 3 allowances of 8.00 in3."""
    (question,) = asked(SHARED)
    assert question.text.startswith("the size of ?/2 nm-b")
    assert by_value(question) == {
        "A": {"#14": "passes", "#12": "passes", "#10": "passes", "#8": "fails", "#6": "fails"},
        "B": {"#14": "passes", "#12": "passes", "#10": "passes", "#8": "fails", "#6": "fails"},
    }
    assert not question.no_value_passes


def test_two_cables_with_one_name_are_two_facts():
    """They share their ends and their words, and stand on two lines."""
    sheet = SHARED.replace("marked 8", "marked 14").replace("marked 12", "marked 18") + "run A > B ?/2 nm-b\n"
    assert [question.at.line for question in asked(sheet)] == [9, 10]


def test_a_fact_of_a_record_that_was_not_read_from_a_sheet_is_known_by_the_record():
    one, other = Box("A"), Box("A")
    assert fact_of(one, "volume") == fact_of(one, "volume")
    assert fact_of(one, "volume") != fact_of(other, "volume")


def test_what_a_kind_says_of_its_boxes_is_one_fact_and_what_is_on_a_switch_is_one_for_each():
    sheet = "edition 2020\nkind usual\n  marked ? in3\n  clamps none\n  switch\nbox A usual\nbox B usual\n"
    sheet += "wires A > B 1 x #12, 1 x #14\n"
    questions = asked(sheet)
    assert len([question for question in questions if "volume" in question.text]) == 1
    assert {effect.subject for question in questions for effect in question.effects} == {"A", "B"}


def open_finding(rule: str, **by_value: Verdict) -> Finding:
    """An open finding that leans on the size of one cable."""
    fact = OpenFact(
        "the size", Decimal(0), "", Where(4), Fact(Where(4), 0, "", "cable size"), 0, tuple(by_value.items())
    )
    return Finding(rule, Verdict.OPEN, "A", "", "", facts=(fact,))


def test_values_that_pull_apart_pass_nothing():
    """A thick wire is worse for one finding and a thin one for another: the question says that no value passes both."""
    fails, passes = Verdict.FAILS, Verdict.PASSES
    fill = open_finding("fill", thin=passes, thick=fails)
    drop = open_finding("drop", thin=fails, thick=passes)
    (alone,) = questions_of([fill])
    assert not alone.no_value_passes
    (both,) = questions_of([fill, drop])
    assert both.no_value_passes


def test_a_list_of_questions_goes_into_json_text_and_packet(tmp_path):
    path = tmp_path / "shared.job"
    path.write_text(SHARED, "utf-8")
    answer = report(SHARED).to_json()
    (question,) = answer["questions"]
    assert [finding["subject"] for finding in question["findings"]] == ["A", "B"]
    assert question["findings"][0]["by_value"][0] == {"value": "#14", "verdict": "passes"}
    ((subjects, text, settles),) = unknown_rows(report(SHARED))
    assert (subjects, text) == ("A, B", question["question"])
    assert settles.startswith("A: #14, #12, #10: passes; #8, #6: fails. B: ")
    told = " ".join(inside("check", str(path)).out.split())
    assert told.count("the size of ?/2 nm-b") == 1
    assert "A [box-fill]: #14, #12, #10: passes; #8, #6: fails B [box-fill]: #14" in told


def test_the_card_of_a_box_shares_the_fact_with_the_list():
    answer = report(SHARED)
    cards = [fact for finding in answer.findings for fact in finding.facts]
    assert {fact.fact for fact in cards} == {question.key for question in answer.questions}
