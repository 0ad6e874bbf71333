"""What the packet says, read back by another program: every number of the report, every name, every fact."""

import re
from decimal import Decimal

import pytest
from hypothesis import given

from ampleroom import check, read_job
from ampleroom.arithmetic import Counted
from ampleroom.errors import NameUnknown
from ampleroom.packet import fingerprint
from ampleroom.packet.glyphs import displayable
from ampleroom.remedy.stock import stock_from_text
from ampleroom.remedy.takeoff import takeoff
from ampleroom.words import CAUTION, printed
from tests.hostile import HOSTILE
from tests.packet.helpers import labels, packet, pages_of, report_of, squeezed, studio, studio_packet, text_of
from tests.pictures.helpers import DIVIDED, OVERFULL, ROOT, UNREAD
from tests.pictures.test_svg import hostile_job
from tests.strategies import examples, jobs

pytest.importorskip("typst")


def numbers_of(report):
    """Every number of every worksheet that is finite, as it is printed."""
    for finding in report.findings:
        for sheet in (finding.worst, finding.best):
            if sheet is not None:
                for line in sheet.lines:
                    if line.amount.is_finite():
                        if isinstance(line, Counted):
                            yield line.unit.number(line.each)
                        yield line.printed
                yield from (sheet.unit.number(value) for value in (sheet.there, sheet.needed) if value.is_finite())


def missing(wanted, pdf):
    """What is not in a PDF's text."""
    text = squeezed(text_of(pdf) + text_of(pdf, layout=False))
    return [words for words in wanted if squeezed(printed(words)) not in text]


def test_every_number_of_the_report_is_in_the_packet():
    assert missing(set(numbers_of(studio())), studio_packet()) == []


def test_every_line_of_every_worksheet_is_in_the_packet_with_its_sum_reason_and_citation():
    wanted = []
    for finding in studio().findings:
        for line in finding.worksheet.lines if finding.worksheet else ():
            told = line.printed
            if isinstance(line, Counted):
                times = format(line.count.normalize(), "f") if isinstance(line.count, Decimal) else line.count
                told = f"{times} x {line.unit.number(line.each)} = {line.unit.number(line.amount)}"
            wanted += [line.label, line.why, line.cite, told]
    assert missing(wanted, studio_packet()) == []


def test_every_box_its_place_and_every_message_is_in_the_packet():
    wanted = [words for box in studio().subjects for words in (box.name, box.description)]
    wanted += [finding.message for finding in studio().findings]
    assert missing(wanted, studio_packet()) == []


def test_readings_facts_reminders_and_cautions_are_in_the_packet():
    found = studio()
    wanted = [CAUTION, *found.readings]
    for finding in found.findings:
        wanted += [words for fact in finding.facts for words in (fact.question, fact.settles)]
    wanted += [reminder.text for box in found.subjects for reminder in box.reminders]
    assert missing(wanted, studio_packet()) == []


@examples(8)
@given(jobs(unknowns=True, extras=True))
def test_every_number_of_a_random_job_is_in_its_packet(job):
    found = check(job)
    assert missing(set(numbers_of(found)), packet(found)) == []


def test_the_fingerprint_the_page_and_how_many_there_are_stand_on_every_page():
    pages = pages_of(studio_packet())
    mark = fingerprint(studio().job)
    for place, page in enumerate(pages, 1):
        assert f"Sheet fingerprint {mark}" in page
        assert f"Page {place} of {len(pages)}" in page
        assert page.strip().startswith("Boathouse studio")
        assert "2020 edition" in page


def test_a_fingerprint_changes_with_any_letter_of_the_sheet():
    one = fingerprint(report_of(OVERFULL).job)
    assert re.fullmatch(r"[0-9a-f]{4}(-[0-9a-f]{4}){3}", one)
    assert fingerprint(report_of(OVERFULL + "# a remark\n").job) != one
    assert fingerprint(report_of(OVERFULL).job) == one


def test_the_cover_has_the_summary_what_does_not_pass_the_readings_and_room_to_sign():
    cover = "\n".join(pages_of(studio_packet())[:2])  # the studio's disputed points take more than a page
    for words in (
        *("2 boxes fail and 1 box, 1 circuit need a check; 19 of", "slip door, under 1958", "plastic-tabs"),
        *("Prepared by", "Responsible electrician", "Inspector", "License no.", "Date", "Name and signature"),
        "The finish in the old part stays up",
    ):
        assert words in cover
    assert squeezed(CAUTION) in squeezed(cover)


def test_a_disputed_point_on_a_card_is_a_question_with_its_answer():
    text = squeezed(text_of(studio_packet(), layout=False))
    question = "Are the spring tabs molded into a nonmetallic box clamps?"
    assert squeezed(f"{question} No, the marked volume already allows for them (plastic-tabs)") in text


def test_a_cover_with_very_much_to_say_still_has_the_signatures():
    boxes = "".join(f"box F{n} at place {n}\n  marked 2 in3\nrun F{n} > ? 12/2 nm-b\n" for n in range(60))
    cover = pages_of(packet(report_of(f"edition 2020\n{boxes}")))[0]
    assert "60 boxes fail; 0 of 60 pass." in cover
    assert "And 50 more, in the full list." in cover
    assert "Responsible electrician" in cover


def test_what_fails_comes_with_its_remedy_and_cost():
    text = text_of(studio_packet())
    assert "Fixes for what fails or needs a check" in text
    assert re.search(r"W2 .*\$42\.73", text)
    found = squeezed(text_of(studio_packet(), layout=False))
    assert squeezed("add extension ring, octagon 4 x 1-1/2") in found
    assert re.search(r"fixed for \$\d+\.\d\d", text)


def test_the_takeoff_is_in_the_packet_line_by_line():
    found = squeezed(text_of(studio_packet(), layout=False))
    stock = stock_from_text((ROOT / "examples" / "stock.toml").read_text("utf-8"))
    for line in takeoff(studio().job, stock).lines:
        assert squeezed(printed(line.item)) in found
        assert squeezed(printed(line.note)) in found


def test_every_box_has_one_card_with_its_code():
    text = text_of(studio_packet())
    for place, box in enumerate(studio().of("box"), 1):
        assert len(re.findall(rf"^ *B{place:03} · {box.name} ·", text, re.M)) == 1


def test_only_failing_leaves_out_what_passes_but_lists_it():
    text = text_of(packet(studio(), only_failing=True))
    assert re.findall(r"^ *(B\d\d\d) ·", text, re.M) == ["B005", "B010", "B011"]
    assert "19 cards are left out of this packet; the full list has everything checked." in text
    assert re.search(r"B001 +J1 ", text)


def test_only_failing_where_all_pass_has_no_card():
    text = text_of(
        packet(
            report_of("edition 2020\nbox A\n  marked 30 in3\n  clamps none\nrun A > ? 12/2 nm-b\n"), only_failing=True
        )
    )
    assert "The only box passes." in text
    assert not re.findall(r"^ *(B\d\d\d) ·", text, re.M)


def test_boxes_asked_for_are_the_only_cards():
    text = text_of(packet(studio(), boxes=("s1", "D1")))
    assert re.findall(r"^ *(B\d\d\d) ·", text, re.M) == ["B003", "B012"]


def test_a_box_that_is_not_there_is_told_with_the_nearest():
    with pytest.raises(NameUnknown, match="there is no box or raceway or circuit 'S9'"):
        packet(studio(), boxes=("S9",))
    with pytest.raises(NameUnknown):
        labels(studio(), boxes=("S9",))


def test_each_side_of_a_barrier_has_its_worksheet():
    text = text_of(packet(report_of(DIVIDED)))
    assert "D/left has 16.3333 in³ spare: box fill 23.00 in³, box volume 39.3333 in³" in text
    assert "D/right has 13.6666 in³ spare: box fill 6.00 in³, box volume 19.6666 in³" in text


def test_a_room_nobody_knows_is_told_with_both_cases():
    text = text_of(packet(report_of(UNREAD)))
    assert "Worst case: facts not checked yet are counted on the safe side." in text
    assert "Best case: only this differs" in text
    assert "Marked box: not known" in text
    assert "Box volume not known, box fill 11.25" in text


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_name_is_text_in_the_packet(name):
    pdf = packet(check(hostile_job(name)))
    text = squeezed(text_of(pdf))
    if name == HOSTILE["right to left"]:
        assert "·evil·" in text
    else:
        assert squeezed(displayable(name))[:24] in text
    assert b"/JavaScript" not in pdf
    assert b"/Launch" not in pdf
    assert b"/URI" not in pdf


def test_a_sheet_without_a_title_has_its_file_or_a_word_at_the_head():
    text = text_of(packet(report_of(OVERFULL)))
    assert text.strip().startswith("sheet")


def test_the_editions_own_notes_stand_on_the_cover():
    cover = pages_of(packet(report_of(OVERFULL.replace("edition 2020", "edition 2026"))))[0]
    assert "Provisional:" in cover
    assert "Tables not compared with this edition:" in cover


def test_amendments_stand_on_the_cover_and_at_the_head_of_every_page():
    harbor = (
        'place = "Cold Harbor"\n'
        'source = "Ordinance 12-4"\n'
        "[[box_fill.grounds]]\n"
        "from = 2020\n"
        'cite = "Harbor 5"\n'
        "covered = 2\n"
    )
    sheet = OVERFULL.replace("edition 2020\n", "edition 2020\namendments harbor.toml\n").replace("2 x 12/2", "3 x 12/2")
    pages = pages_of(packet(check(read_job(sheet, beside=lambda name: harbor))))
    assert "Amended by Cold Harbor (Ordinance 12-4): box_fill.grounds." in pages[0]
    assert all("2020 edition, amended by Cold Harbor" in page for page in pages)
    assert any("Harbor 5" in page for page in pages[1:])


@pytest.mark.parametrize("sheet", ["edition 2020\nbox A\n", "edition 2020\npanel P\nbox A\n  marked 9 in3\n"])
def test_a_job_with_hardly_anything_has_a_packet(sheet):
    assert "Signatures" in text_of(packet(report_of(sheet)))


ABOUT = {
    "address": ("Address", "12 Wharf Lane, Cold Harbor"),
    "permit": ("Permit", "26-0417 #3"),
    "contractor": ("Contractor", "Night shift crew, *all* of [them] " + "and more of them " * 12),
    "phase": ("Phase", "rough-in"),
}


def lines_about(words):
    return "".join(f"{word} {ABOUT[word][1].strip()}\n" for word in words)


@pytest.mark.parametrize("words", [tuple(ABOUT), ("permit",), ("address", "phase")], ids=" ".join)
def test_what_the_sheet_says_for_the_paper_is_on_the_first_page_and_only_what_it_says(words):
    first = pages_of(
        packet(report_of(f"job Boat shed\nedition 2020\n{lines_about(words)}box A\n  square 4 x 2-1/8\n"))
    )[0]
    heads = first.split("Summary")[0]
    for word, (label, text) in ABOUT.items():
        assert (re.search(rf"^ *{label} ", heads, re.M) is not None) == (word in words)
        assert (squeezed(text) in squeezed(heads)) == (word in words)


def test_a_sheet_that_says_nothing_for_the_paper_has_no_empty_labels():
    first = pages_of(packet(report_of("job Boat shed\nedition 2020\nbox A\n  square 4 x 2-1/8\n")))[0]
    heads = first.split("Summary")[0]
    assert not [label for label, _ in ABOUT.values() if re.search(rf"^ *{label}\b", heads, re.M)]
