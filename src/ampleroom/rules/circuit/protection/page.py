"""What ``rule wire-protection`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import ADJUSTMENT, AMBIENT, AMPACITY, BUNDLE, LOWEST, ROOFTOP
from ampleroom.editions.cable_ampacity import ARMORED, CABLES_HEAT
from ampleroom.editions.protection import DWELLING, NEXT_SIZE, SMALL, STANDARD, TERMINALS
from ampleroom.editions.raceways import INSULATIONS
from ampleroom.job.trade import size_text
from ampleroom.quantities import count, inches, number
from ampleroom.rules.page import Sentence

TRADE_WORDS = (
    *("breaker", "overcurrent", "fuse", "ampacity", "wire size", "derating", "bundling", "bundled", "circuit"),
    *("small conductors", "next size up", "ocpd", "sealed hole"),
)


def next_size(book: CodeBook) -> str:
    """Up to which rating the next one up will do."""
    return (
        f"Where the ampacity is no standard rating, the next one up to {count(book[NEXT_SIZE].up_to)} A protects the "
        "wire, unless the circuit feeds more than one receptacle."
    )


def ratings(book: CodeBook) -> str:
    """The first and the last of the standard ratings."""
    ratings = book[STANDARD].ratings
    return f"Standard ratings go from {ratings[0]} A to {ratings[-1]} A."


def small(book: CodeBook) -> str:
    """The largest breaker of each small wire."""
    rows = "; ".join(f"{size_text(row.size)} {row.material} {count(row.most)} A" for row in book[SMALL].rows)
    return f"Small wires have a largest breaker whatever their ampacity: {rows}."


def base(book: CodeBook) -> str:
    """From which column a wire starts."""
    return "The ampacity starts from the column of the wire's own insulation."


def ambient(book: CodeBook) -> str:
    """That heat around a wire takes some of it."""
    cold = book[AMBIENT].least
    from_there = "" if cold is None else f", from {count(cold)} C on"
    return f"It is multiplied by the factor of the table for how warm the air around the wire is{from_there}."


def adjustment(book: CodeBook) -> str:
    """What is kept beside others."""
    table = book[ADJUSTMENT]
    kept, least = [], table.free
    for row in table.rows:
        upper = "" if row.up_to is None else f" to {count(row.up_to)}"
        kept.append(f"over {count(least)}{upper} {count(row.percent)}%")
        least = row.up_to if row.up_to is not None else least
    return f"More than {count(table.free)} conductors that carry current side by side keep a part: {', '.join(kept)}."


def bundle(book: CodeBook) -> str:
    """How short a nipple and a bundle may be."""
    terms = book[BUNDLE]
    return (
        f"A nipple of up to {inches(terms.longest_nipple)} needs no adjustment, nor do cables bundled for up to "
        f"{inches(terms.longest_bundle)}"
    )


def roof(book: CodeBook) -> str:
    """What the sun adds."""
    rows = [
        f"{'under' if row.is_under else 'up to'} {inches(row.up_to)} {number(row.adds, 0)} C"
        for row in book[ROOFTOP].rows
    ]
    what = "a raceway" if book[ROOFTOP].raceways_only else "a raceway or cable"
    return f"The sun on a roof adds to the heat around {what} by its height: {', '.join(rows)}."


def lowest(book: CodeBook) -> str:
    """How short a hot stretch may be."""
    terms = book[LOWEST]
    return (
        "The least ampacity along a run counts. A stretch with less may be left aside where it is no longer than "
        f"{count(terms.feet)} ft and than {count(terms.percent)}% of the rest."
    )


def cables(book: CodeBook) -> str:
    """Which column cables end at."""
    ended = [f"{row.kind} at {count(row.ends)} C" for row in book[CABLES_HEAT].rows if row.ends is not None]
    return f"Some cables may not end above a column of their own: {', '.join(ended)}."


def armored(book: CodeBook) -> str:
    """How many bare armored cables may lie together."""
    terms = book[ARMORED]
    over = "" if terms.percent_over is None else f" More of them keep {count(terms.percent_over)}%."
    return (
        f"Armored and metal-clad cable without a jacket, {size_text(terms.size)} copper and no more than "
        f"{count(terms.conductors)} conductors each, needs no adjustment up to {count(terms.most)} conductors.{over}"
    )


def insulation(book: CodeBook) -> str:
    """Where the column of an insulation comes from."""
    rows = book[INSULATIONS].rows
    ninety = ", ".join(row.kind for row in rows if row.dry == Decimal(90))
    return f"Rated 90 C where it is dry: {ninety}."


def terminals(book: CodeBook) -> str:
    """Which column terminals allow."""
    terms = book[TERMINALS]
    return (
        f"Terminals up to {count(terms.small_amperes)} A and {size_text(terms.small_size)} allow the "
        f"{count(terms.small)} C column unless both ends are marked {count(terms.large)} C; larger ones the "
        f"{count(terms.large)} C column."
    )


def dwelling(book: CodeBook) -> str:
    """What a service or feeder of a dwelling has instead."""
    terms = book[DWELLING]
    part = "" if terms.percent is None else f" an ampacity of {count(terms.percent)}% of its rating is enough;"
    rows = "; ".join(
        f"{count(row.rating)} A {size_text(row.copper)} copper or {size_text(row.aluminum)} aluminum"
        for row in terms.rows
    )
    sizes = f" where nothing needs correction, these sizes are: {rows};" if rows else ""
    return (
        f"Of a single-phase service or feeder from {count(terms.least)} A to {count(terms.most)} A that carries a "
        f"whole dwelling{part}{sizes}".removesuffix(";")
        + "."
    )


SENTENCES = (
    Sentence((DWELLING,), dwelling),
    Sentence((NEXT_SIZE,), next_size),
    Sentence((STANDARD,), ratings),
    Sentence((SMALL,), small),
    Sentence((AMPACITY,), base),
    Sentence((AMBIENT,), ambient),
    Sentence((ADJUSTMENT,), adjustment),
    Sentence((BUNDLE,), bundle),
    Sentence((ROOFTOP,), roof),
    Sentence((LOWEST,), lowest),
    Sentence((CABLES_HEAT,), cables),
    Sentence((ARMORED,), armored),
    Sentence((INSULATIONS,), insulation),
    Sentence((TERMINALS,), terminals),
)
