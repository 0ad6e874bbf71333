"""Wireways and gutters, each by its section and length, and their supports."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import NEWEST_COMPARED, CodeBook
from ampleroom.job.lines.statement import plain as plain_number
from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.stock import cents
from ampleroom.remedy.takeoff.count import Count, TakeoffLine, plain


def wireway_lines(count: Count) -> Iterator[TakeoffLine]:
    """One line for all of one section and length, and one for the supports of a level run. A price stands in the stock
    file as that of a raceway, by the foot: ``wireway 4 x 4``; its inside measures stand there in either order.
    """
    if not count.job.wireways:
        return
    from ampleroom.rules.wireway.reminders.supports import GUTTER, WIREWAY, supports

    job = count.job
    book = (
        CodeBook(job.edition or NEWEST_COMPARED, job.amendments)
        if job.amendments
        else CodeBook(job.edition or NEWEST_COMPARED)
    )
    alike: dict[tuple[str, tuple[Decimal, Decimal], Decimal], int] = {}
    held: dict[str, int] = {}
    for wireway in job.wireways:
        where = f"{wireway.form} {wireway.name} (line {wireway.at.line})"
        one, other = wireway.inside
        if one is UNKNOWN or other is UNKNOWN:
            count.missing.append(f"how large {where} is inside")
            continue
        if not wireway.length or wireway.length is UNKNOWN:
            count.missing.append(f"the length of {where}")
            continue
        key = (wireway.form, (one, other), wireway.length)
        alike[key] = alike.get(key, 0) + 1
        if not wireway.nonmetallic:
            every = book[GUTTER].level if wireway.form == "gutter" else book[WIREWAY].level
            held[wireway.form] = held.get(wireway.form, 0) + supports(wireway.length, every)
    for (form, inside, length), number in sorted(alike.items()):
        stocked = count.stock.wireway(form, inside)
        each = cents(stocked.per_foot * length) if stocked else None
        section = stocked.name if stocked else f"{form.capitalize()} {' x '.join(map(plain_number, inside))} in."
        name = f"{section}, {plain(length)} ft"
        price = each * number if each is not None else None
        yield TakeoffLine("raceway", name, Decimal(number), "", each, price, "covers and ends apart")
    for form, number in sorted(held.items()):
        yield TakeoffLine(
            "fittings", f"{form.capitalize()} supports", Decimal(number), "", None, None, "of a level run"
        )
