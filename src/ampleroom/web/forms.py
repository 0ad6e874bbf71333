"""The forms of everything the server answers, in the words of docs/json.md: ``text``, ``list of box``, ``text or
null``.

Each form begins a line with its name; then its fields, each with its type. ``...`` takes in the fields of another form,
a field with ``?`` may be missing, and a type with a number behind a stroke is the one text that stands there.
"""

from __future__ import annotations

from typing import Any

Schema = dict[str, Any]

PRINTED = """
report: schema ampleroom-report/2, ampleroom text, job job, edition edition, verdict text, counts map of whole number,
    counts_by_kind map of map of whole number, not_judged list of unjudged, readings list of mattered,
    assumptions list of text,
    subjects list of subject, questions list of question, warnings list of warning, caution text
question: question text, where where or null, findings list of settled, no_value_passes true or false,
    note text
settled: subject text, rule text, settles text, by_value list of outcome
outcome: value text, verdict text
unjudged: kind text, number whole number, text text
warning: text text, where where or null
job: title text, file text
edition: year whole number, title text, provisional true or false, note text, not_compared list of text,
    amended_by text or null, amended_tables list of text
subject: kind text, name text, at text, where where or null, verdict text, message text, margin_text text,
    empty true or false, headline text or null,
    findings list of finding, reminders list of reminder
finding: rule text, subject text, verdict text, message text, cite text, confidence text, readings list of text,
    where where or null, needed text or null, there text or null, margin text or null, purpose text or null,
    unit text or null, sum text, too_many text, other_case text, worksheet worksheet or null,
    best_case worksheet or null, worst_case worksheet or null, facts_to_find list of fact
worksheet: purpose text, unit text, unit_printed text, unit_spoken text, have_title text, need_title text,
    have list of line,
    need list of line, there text or null, needed text or null, margin text or null, there_printed text,
    needed_printed text,
    margin_printed text, passes true or false
line: kind text, rule text, label text, count text or null, each text or null, percent text or null,
    picked whole number or null, parts list of line, amount text or null, unit text, unit_printed text,
    is_rounded true or false, steps text,
    printed text, why text, cite text, confidence text, readings list of text
fact: question text, swing text or null, settles text, where where or null
reminder: rule text, text text, cite text, caution true or false, confidence text, readings list of text
mattered: name text, asks text, choice text, means text, default true or false, others map of text,
    mattered_for list of text
where: file text, line whole number, column whole number, end whole number
suggestion: boxes list of smallest, reason text, assumes list of text
smallest: shape text, certain candidate or null, possible candidate or null, text text
candidate: line text, volume text, confidence text
adoption: place text, edition whole number, text text, known list of adopted
adopted: edition whole number or null, since text or null, status text, source text, as_of text, note text
rules: schema ampleroom-rule/2, rules list of named, tables list of page-name, readings list of disputed, caution text
named: name text, title text, topic text
disputed: name text, row whole number, asks text, choices map of text, default text, judged true or false,
    sources list of text
rule: schema ampleroom-rule/2, name text, title text, says list of text, why text, sections list of text,
    editions list of period,
    provisional text, allowance_sizes list of text, allowances map of text, example example, readings list of page-name,
    sure list of sure, sources list of text, caution text
period: first whole number, last whole number, label text, text text, cites list of text,
    from_memory list of whole number, mark text
sure: table text, cite text, first whole number, last whole number, label text, confidence text
example: edition whole number, sheet text, lines list of line, findings list of found, reminders list of reminder
found: verdict text, message text, cite text, confidence text
page-name: name text, title text
pages: schema ampleroom-rule/2, asked text, title text, pages list of page-name, caution text
points: schema ampleroom-rule/2, title text, readings list of disputed, caution text
box-table: schema ampleroom-rule/2, title text, edition whole number, cites list of text, sizes list of text,
    boxes list of box-row,
    notes list of text, caution text
box-row: box text, volume text, holds map of whole number, per_gang true or false, confidence text
remedy: box text, kind text, what text, cost text, price text, minutes text, disturbs text, damage text,
    margin text or null, unit text, leaves text, buys list of buy, per_foot list of rate, per_foot_text list of text,
    details list of text, kinds list of text, touches list of text, also_fixes list of text,
    taken_for_granted list of text
buy: what text, number text, each text
rate: what text, each text, minutes text, cost text, length_of text
nothing: box text, headline text, check_first true or false, reasons list of text
asked: question text, settles text
plan: schema ampleroom-plan/1, job job, edition edition, currency text, cost text, bound text, gap_percent number,
    proved true or false, summary text, proof text, found_by text, rounds whole number, parts text, minutes text,
    labor text,
    kinds list of text, kind_charge text, per_foot list of text,
    remedies list of remedy, nothing_helps list of nothing, first_find_out map of asked or null,
    not_looked_at list of text,
    not_tried map of list of text, caution text
reexamined: schema ampleroom-reexamined/1, before edition, after edition, newly_failing list of text, plan plan,
    caution text
takeoff: schema ampleroom-takeoff/1, job job, currency text, waste_percent text, lines list of bought, total text,
    lines_without_price whole number, minutes text, not_known list of text, caution text
bought: group text, what text, number text, unit text, each text or null, price text or null, note text
"""
"""What ``--json`` prints too; tests hold it to docs/json.md."""

OWN = """
hello: ampleroom text, api whole number, offline true or false
examples: examples list of example-sheet, starter text, stock text
example-sheet: name text, title text, sheet text
jobs: jobs list of kept-row
kept-row: id text, title text, version whole number, changed text
kept: ... kept-row, sheet text, can_undo true or false, can_redo true or false, removed true or false, undo_label text,
    redo_label text
removed: removed text
history: versions list of version, more true or false
version: version whole number, label text, made text
version-sheet: version whole number, sheet text
photos: photos list of photo
photo: id text, box text, bytes whole number, made text
stock: stock text
refusal: error text, kind text, faults? list of fault-of-file
conflict: error text, kind text, current kept, base whole number

job-list: title text, edition edition, edition_written whole number or null, faults list of fault-here, verdict text,
    counts map of whole number, counts_by_kind map of map of whole number, counts_text text,
    kinds_shown list of kind-shown,
    not_judged list of unjudged, subjects list of subject-row, subjects_text text, questions_heading text,
    questions list of question, panels list of text, circuits list of text, kinds list of text,
    notes list of text, assumptions list of text, warnings list of warning, readings list of chosen, caution text
fault-here: line whole number, column whole number, end whole number, message text, hint text
fault-of-file: ... fault-here, file text
subject-row: kind text, page text, name text, at text, verdict text, message text, brief text, card text,
    margin_text text, margin text or null, cautions whole number
chosen: name text, choice text
kind-shown: kind text, text text
standing: verdict text, text text, unread whole number
standing-of-job: ... standing, version whole number
box-view: ... subject, edition edition, says said-of-subject, faults whole number, box_kind text, items list of item,
    clamps map of text, from_kind list of text,
    runs list of run, spaces list of text, sides list of side-of-box, pictures list of picture-of,
    readings_used list of mattered, caution text,
    around? around
side-of-box: side text, volume text, fill text, cables list of row-of-cable, devices list of row-of-device,
    clamps row-of-clamps or null,
    grounds row-of-grounds, others list of row-of-rule, verdict? text, message? text, says? said-of-subject
row-of-rule: title text, amount text, rule text
row-of-grounds: title text, amount text, detail text
row-of-cable: ... row-of-grounds, name text, count whole number or text, lines list of whole number
row-of-device: ... row-of-grounds, name text, size text, count whole number, indexes list of whole number
row-of-clamps: way text, amount text
around: previous text, next text, new text, like like or null, boxes list of key-of-box, cables list of key-of-cable,
    devices list of text, uses_cables true or false
like: box text, says text
key-of-box: line text, top text, bottom text, clamps text
key-of-cable: name text, text text
said-of-subject: big text, short text, hands text, range text, aloud text, check text, on_site text, disputed text
item: index whole number, text text, is text, line whole number, side text, way? text, size? text, count? whole number
run: index whole number, text text, line whole number, side text, name text, count whole number or text, where text,
    far list of text,
    here text, circuit text, length text
drawing: svg text, alt text, title text
map-drawn: ... drawing, wide whole number, high whole number, places list of place-drawn
place-drawn: name text, kind text, page text, x whole number, y whole number, wide whole number, high whole number
picture-of: ... drawing, what text
changed: sheet text, title text, faults list of fault-here, view box-view or null, label text, also list of neighbor,
    changed_rows null or list of subject-row
neighbor: box text, verdict text, says text
edited: ... kept-row, sheet? text, can_undo true or false, can_redo true or false, removed true or false,
    undo_label text, redo_label text,
    patch? patch, faults list of fault-here, view box-view or null, label text, also list of neighbor,
    changed_rows null or list of subject-row
patch: start whole number, drop whole number, put list of text, lines whole number
merged: yours text, there text, parts list of part-merged, sheet text or null, trouble text
part-merged: yours text, there text, agreed true or false, ways list of text, before list of text, mine list of text,
    theirs list of text
fits-more: schema ampleroom-fits/2, job job, edition edition, box text, more list of fit-said, caution text
fits-tried: ... report, schema ampleroom-fits/2, box text, what text, fits text, more list of fit-said
fit-said: what text, certain whole number, possible whole number, text text
asked-about: ... report, schema ampleroom-ask/2, subjects list of subject-asked, question text, edition_from text,
    sheet text, more map of list of fit-said,
    more_notes map of text, most most or null, smallest suggestion, sizes list of raceway-size,
    sized text, circuit circuit-size or null, adopted adoption or null
most: what text, certain whole number, possible whole number
circuit-size: wires list of wire-size, largest_breaker breaker-size, smallest_breaker breaker-size or null,
    electrodes list of electrode-size
electrode-size: electrode text, material text, certain text or null, possible text or null, text text
wire-size: wires text, certain text or null, possible text or null, text text
breaker-size: certain whole number or null, possible whole number or null, text text
raceway-size: kind text, certain text or null, certain_metric text or null, possible text or null,
    spare text or null, next_up text or null, next_up_metric text or null, next_spare text or null,
    may_jam true or false, unlisted text or null
subject-asked: ... subject, says said-of-subject
remedies-shown: schema ampleroom-remedies/1, job job, edition edition, box text, verdict text, currency text,
    remedies list of remedy-shown, nothing_helps nothing or null, first_find_out asked or null, not_tried list of text,
    caution text
remedy-shown: ... remedy, picture? drawing, narrow? list of drawing
point-shown: ... disputed, schema ampleroom-rule/2, reading disputed, title text, caution text
editions: editions list of offered, subjects list of by-edition, caution text
offered: year whole number, provisional true or false, note text
by-edition: kind text, page text, name text, at text, by_edition map of subject-row
words: boxes list of box-offered, cables list of text, old_cables list of text, sizes list of text,
    devices list of text,
    clamps list of text, editions list of offered, newest whole number, adopted list of adoption-offered, caution text
adoption-offered: place text, text text, edition whole number or null
box-offered: line text, volume text
packet-made: pdf text, fingerprint text, name text
workbook-made: xlsx text, name text
brought-in: sheet text
"""
"""What only the page is told."""


def read_forms(text: str) -> dict[str, dict[str, str]]:
    """Each form's fields with their types, in order."""
    entries = [entry.partition(": ") for entry in text.replace("\n    ", " ").split("\n") if entry]
    return {name: dict(field.split(" ", 1) for field in fields.split(", ")) for name, _, fields in entries}


def whole_form(name: str) -> dict[str, str]:
    """A form's fields, with those it takes in; its own say more than those."""
    fields = dict(FORMS[name])
    return {**whole_form(fields.pop("...")), **fields} if "..." in fields else fields


FORMS = read_forms(PRINTED + OWN)
PLAIN: dict[str, Schema] = {
    "text": {"type": "string"},
    "whole number": {"type": "integer"},
    "number": {"type": "number"},
    "true or false": {"type": "boolean"},
    "null": {"type": "null"},
}


def type_schema(kind: str) -> Schema:
    """A type in words as JSON schema."""
    if kind in PLAIN:
        return PLAIN[kind]
    if kind.startswith("list of "):
        return {"type": "array", "items": type_schema(kind.removeprefix("list of "))}
    if kind.startswith("map of "):
        return {"type": "object", "additionalProperties": type_schema(kind.removeprefix("map of "))}
    if " or " in kind:
        return {"anyOf": [type_schema(way) for way in kind.split(" or ")]}
    return {"const": kind} if "/" in kind else {"$ref": f"#/components/schemas/{kind}"}


def form_schema(name: str) -> Schema:
    """A form as JSON schema; new fields may come at any time."""
    fields = whole_form(name)
    return {
        "type": "object",
        "required": [field for field in fields if not field.endswith("?")],
        "properties": {field.removesuffix("?"): type_schema(kind) for field, kind in fields.items()},
    }
