"""Everything the packet says, as plain data for the template: no sentence is made in the template but headings."""

from __future__ import annotations

import hashlib
from typing import Any

from ampleroom.editions import READINGS
from ampleroom.job.model import Job
from ampleroom.job.writer import write_job
from ampleroom.packet.cards import Card, Photos, cards_of
from ampleroom.packet.glyphs import displayable
from ampleroom.pictures.drawing import shortened, text_width
from ampleroom.quantities import plural
from ampleroom.remedy.plan import Plan
from ampleroom.remedy.present import rate_texts
from ampleroom.remedy.stock import money
from ampleroom.remedy.takeoff import Takeoff, plain
from ampleroom.report import (
    VERSION,
    Question,
    Report,
    lines_of,
    so_many_of_each,
)
from ampleroom.words import CAUTION, NO_VALUE_PASSES, short_message
from ampleroom.worksheet import Verdict

RUNNING_WIDE = 330.0
"""Room for the title at the head of every page, in points, beside the edition."""
COVER_ROWS = 10
"""So many lines of a table stand on the cover; it has to be signed there."""
NAME_SIZE = 8.8
"""Of the names in the list of everything checked, in points."""


def fingerprint(job: Job) -> str:
    """Sixteen digits that change with any letter of the sheet, in groups of four."""
    text = job.sheet.text if job.sheet else write_job(job)
    digest = hashlib.sha256(text.encode("utf-8")).hexdigest()[:16]
    return "-".join(digest[start : start + 4] for start in range(0, 16, 4))


def packet_data(
    report: Report,
    *,
    plan: Plan | None = None,
    takeoff: Takeoff | None = None,
    photos: Photos | None = None,
    only_failing: bool = False,
    boxes: tuple[str, ...] = (),
) -> dict[str, Any]:
    """The packet's data. ``only_failing`` leaves out the cards of what passes; ``boxes``: only these cards."""
    cards = list(cards_of(report, photos or {}))
    title = report.job.title or report.job.file or "Job"
    shown = [card for card in cards if wanted(card, only_failing, boxes)]
    return {
        "title": title,
        "about": about_rows(report.job),
        "running": shortened(displayable(title), RUNNING_WIDE, 8),
        "file": report.job.file,
        "version": VERSION,
        "fingerprint": fingerprint(report.job),
        "edition": report.book.title,
        "edition_notes": [*report.notes, *report.job.assumptions],
        "notes": [note.text for note in report.job.notes],
        "counts": [
            {"word": verdict.word, "shape": verdict.shape, "number": n}
            for verdict, n in report.counts.items()
            if n or verdict is not Verdict.ADVICE
        ],
        "cover_rows": COVER_ROWS,
        "name_wide": name_wide(cards),
        "summary": summary(report),
        "not_judged": report.not_judged_text,
        "readings": readings_rows(report),
        "troubles": [listed(card) for card in cards if card.verdict is not Verdict.PASSES],
        "remedies": remedy_rows(plan),
        "remedy_words": remedy_words(plan),
        "cards": [card.data() for card in shown],
        "left_out": len(cards) - len(shown),
        "overview": [listed(card) for card in cards],
        "takeoff": takeoff_rows(takeoff),
        "takeoff_words": takeoff_words(takeoff),
        "unknown": unknown_rows(report),
        "memory": memory_rows(report),
        "caution": CAUTION,
    }


def about_rows(job: Job) -> list[list[str]]:
    """What the sheet says for the paper alone, label and text: where the job is, its permit, who does the work, the
    inspection.
    """
    rows = (("Address", job.address), ("Permit", job.permit), ("Contractor", job.contractor), ("Phase", job.phase))
    return [[label, text] for label, text in rows if text]


def name_wide(cards: list[Card]) -> float:
    """How wide the column of the boxes' names is, in points: as the widest of them, within what leaves room for the
    rest.
    """
    widest = max((text_width(card.subject, NAME_SIZE, True) for card in cards), default=0.0)
    return round(min(max(widest + 2, 30.0), 110.0), 1)


def wanted(card: Card, only_failing: bool, boxes: tuple[str, ...]) -> bool:
    """Whether a card goes into the packet: of the boxes named; where none are, all or only what does not pass."""
    if boxes:
        return card.subject.casefold() in {name.casefold() for name in boxes}
    return not only_failing or card.verdict is not Verdict.PASSES


def summary(report: Report) -> str:
    """How the subjects stand, in one sentence; what was not judged is said beside it."""
    by_verdict = {
        verdict: [subject for subject in report.subjects if subject.verdict is verdict] for verdict in Verdict
    }
    passing, all_of_them = by_verdict[Verdict.PASSES], len(report.subjects)
    if not report.subjects:
        return "The sheet has nothing to check yet."
    if len(passing) == all_of_them:
        if all_of_them == 1:
            return f"The only {passing[0].kind} passes."
        return f"All {so_many_of_each(passing, ' and ')} pass."
    counts = []
    if failing := by_verdict[Verdict.FAILS]:
        counts.append(f"{so_many_of_each(failing)} {'fails' if len(failing) == 1 else 'fail'}")
    if to_check := by_verdict[Verdict.OPEN]:
        counts.append(f"{so_many_of_each(to_check)} {'needs' if len(to_check) == 1 else 'need'} a check")
    if advised := by_verdict[Verdict.ADVICE]:
        counts.append(f"{so_many_of_each(advised)} with advice")
    return " and ".join(counts) + f"; {len(passing)} of {all_of_them} pass."


def readings_rows(report: Report) -> list[list[str]]:
    """A row for each disputed point: what is chosen, who set it, and the boxes it concerns."""
    rows = []
    for name, boxes in sorted(report.readings.items()):
        reading = READINGS[name]
        if reading.is_open:
            choice = report.book.reading(name)
            set_by = "the default" if choice == reading.default else "as the sheet sets it"
            shown = ", ".join(boxes[:12]) + (f" and {len(boxes) - 12} more" if len(boxes) > 12 else "")
            rows.append([name, reading.asks, f"{reading.choices[choice]} ({set_by})", shown])
    return rows


def listed(card: Card) -> list[str]:
    """A card as a line of a table; its box is named once."""
    message = short_message(card.message, card.subject)
    return [card.code, card.subject, card.title, card.verdict.shape, card.verdict.word, message]


def remedy_rows(plan: Plan | None) -> list[list[str]]:
    """A row for each fix of a plan, and for each box nothing helps."""
    if plan is None:
        return []
    rows = [
        [
            remedy.box,
            ". ".join((remedy.action, *remedy.details)),
            "; ".join((money(remedy.cost(plan.stock), plan.stock.currency), *rate_texts(remedy.rates, plan.stock))),
            remedy.disturbance.text,
            "; ".join(remedy.notes),
        ]
        for remedy in plan.remedies
    ]
    return rows + [
        [nothing.box, f"{nothing.headline}: " + "; ".join(nothing.reasons), "", "", ""] for nothing in plan.nothing
    ]


def remedy_words(plan: Plan | None) -> str:
    """What a plan costs and how good it is; nothing without a plan."""
    if plan is None or not (plan.remedies or plan.nothing):
        return ""
    parts = f"{plan.summary}: parts, labor and {plural(len(plan.kinds), 'kind')} of box to carry"
    return f"{parts}. {plan.proof} Each fix is checked against every rule."


def takeoff_rows(takeoff: Takeoff | None) -> list[list[str]]:
    """A row for each line of a takeoff."""
    if takeoff is None:
        return []
    return [
        [
            line.group,
            line.item,
            plain(line.quantity),
            line.unit,
            "" if line.price is None else f"{line.price:.2f}",
            line.note,
        ]
        for line in takeoff.lines
    ]


def takeoff_words(takeoff: Takeoff | None) -> list[str]:
    """What stands below a takeoff: total, lines without a price, what to find out."""
    if takeoff is None:
        return []
    words = [f"Total of the lines with a price: {money(takeoff.total, takeoff.currency)}."]
    if takeoff.unpriced:
        words.append(f"{plural(takeoff.unpriced, 'line')} without a price: not in the stock file.")
    return words + [f"Check first: {missing}." for missing in takeoff.missing]


def unknown_rows(report: Report) -> list[list[str]]:
    """Every fact nobody has looked at that still matters, once, with what it settles in each box."""
    return [
        [
            ", ".join(dict.fromkeys(effect.subject for effect in question.effects)),
            question.text,
            settles_text(question),
        ]
        for question in report.questions
    ]


def settles_text(question: Question) -> str:
    """What a fact settles; of several findings, in each."""
    if len(question.effects) == 1:
        return question.effects[0].settles
    effects = [f"{effect.subject}: {effect.settles}" for effect in question.effects if effect.settles]
    return ". ".join([*effects, NO_VALUE_PASSES] if question.no_value_passes else effects)


def memory_rows(report: Report) -> list[str]:
    """Values in use that rest on memory or on one source, each told once."""
    rows: dict[str, None] = {}
    for line in lines_of(report):
        if line.confidence not in ("two sources", "computed"):
            rows[f"{line.cite} ({line.label.split(',')[0].split(':')[0].lower()}): {line.confidence}"] = None
    for finding in report.findings:
        if finding.confidence not in ("two sources", "computed"):
            rows[f"{finding.cite}: {finding.confidence}"] = None
    return sorted(rows)


__all__ = ["cards_of", "fingerprint", "packet_data"]
