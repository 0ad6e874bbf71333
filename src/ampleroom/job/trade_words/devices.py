"""Devices by their trade names: ``GFI``, ``2 duplex receptacles 20A``, ``sp switch``."""

from __future__ import annotations

import re

from ampleroom.errors import nearest
from ampleroom.job.nicknames import DEVICES, ONE_YOKE, QUADS
from ampleroom.job.trade import DEVICE_KINDS
from ampleroom.job.trade import DEVICES as DEVICE_WORDS
from ampleroom.job.trade_words.tokens import Line, Token, counted, phrase_at, put, singular
from ampleroom.job.words import Unreadable

PROTECTED = ("wr", "tr")
"""``WR/TR`` is one receptacle, ``switch/receptacle`` two devices on one yoke."""

DEFAULT_DEVICE = {
    "usb": "receptacle",
    "single": "receptacle",
    "locking": "receptacle",
    "range": "receptacle",
    "dryer": "receptacle",
    "weather": "receptacle",
    "isolated-ground": "receptacle",
    "tamper-resistant": "receptacle",
}


def device(line: Line) -> list[Line] | None:
    """``GFI``, ``2 duplex receptacles 20A``, ``sp switch``: devices, with their plain names first."""
    count, rest = counted([piece for token in line for piece in parted_names(token)])
    if not rest or rest[0].low == "?":
        return None
    one_yoke = next((place for place in range(len(rest)) if phrase_at(rest, place, ONE_YOKE, 3)[1]), None)
    if one_yoke is not None and any(token.low in ("and", "&", "+", "/") for token in rest):
        many = phrase_at(rest, one_yoke, ONE_YOKE, 3)[1]
        rest = [Token("+", *token[1:]) if token.low in ("and", "&") else token for token in rest]
        rest = rest[:one_yoke] + rest[one_yoke + many :]
    phrase, many = phrase_at(rest, 0, QUADS)
    if many and not count:
        return [put(QUADS[phrase], *rest[:many]) + rest[many:]]
    names: list[list[Token]] = [[]]
    after: Line = []
    at = 0
    while at < len(rest):
        token = rest[at]
        if token.low == "for":
            after += rest[at:]
            break
        phrase, many = device_phrase(rest, at)
        if many and at and rest[at - 1].low == ",":
            return None
        if phrase == "combo" and (len(names) == 2 or (names[0] and names[0][-1].word == "alarm")):
            at += many
            continue
        if many and not after_takes(after):
            stands = rest[at : at + many]
            add_name(names[-1], put(DEVICES.get(phrase, phrase), *stands))
            at += many
        elif token.low in ("+", "/") and names[-1] and not after:
            names.append([])
            at += 1
        elif token.low in ("with", "w/", "ea", "each"):
            at += 1
        elif not names[0] and is_a_word(token.low) and device_phrase(rest, len(rest) - 1)[1]:
            raise unknown_before(token, rest)
        elif token.low in ("amp", "a", "v", "volt") and after and after[-1].word.isdigit():
            after += put("A" if token.low in ("amp", "a") else "V", token)
            at += 1
        else:
            after.append(token)
            at += 1
    if not names[0] or not names[-1]:
        return None
    name: Line = []
    for several in names:
        name += ([Token("+", several[0].first, several[0].first)] if name else []) + complete(several)
    return [count + name + after]


def is_a_word(low: str) -> bool:
    """Whether nothing but letters stands here, so that it is no size, rating or width."""
    return low.replace("-", "").isalpha() and low not in ("amp", "a", "amps", "v", "volt", "volts", "wide", "on", "x")


def unknown_before(token: Token, line: Line) -> Unreadable:
    """The fault of a word before a device that says nothing known of it."""
    device = " ".join(each.word for each in line[line.index(token) + 1 :])
    close = nearest(token.word, DEVICE_KINDS)
    hint = f"did you mean {close[0]!r}?" if close else f"take it out, or write {device} for {token.word}"
    return Unreadable(token.first, token.last, f"unknown word {token.word!r} before the device", hint)


def after_takes(after: Line) -> bool:
    """Whether the next word belongs to one before it, as in ``leads 3 x #18`` or ``pigtail #14``."""
    return bool(after) and after[-1].low in ("projects", "on")


def device_phrase(line: Line, at: int) -> tuple[str, int]:
    """A device's name, or a word of one, singular or plural."""
    for many in (3, 2, 1):
        words = [token.low for token in line[at : at + many]]
        if len(words) == many:
            for last in (words[-1], singular(words[-1])):
                phrase = " ".join([*words[:-1], last])
                if phrase in DEVICES or (many == 1 and phrase in (*DEVICE_WORDS, *DEVICE_KINDS)):
                    return phrase, many
    return "", 0


def parted_names(token: Token) -> Line:
    """``switch/receptacle`` as three words."""
    both = token.low.split("/")
    if len(both) == 2 and all(singular(word) in (*DEVICE_WORDS, *DEVICES) for word in both):
        if both[0] in PROTECTED:
            return put(" ".join(both), token)
        return put(" + ".join(both), token)
    if rating := re.fullmatch(r"(\d{1,3})a?/(\d{2,3})v", token.low):
        return put(f"{rating[1]} A {rating[2]} V", token)
    return [token]


def add_name(name: Line, more: Line) -> None:
    """Joins a word to a device's name. The device that a nickname stands for gives way to one that is written, as in
    ``3-way dimmer``; one that is written twice stays once, as in ``sp switch``."""
    if (
        name and name[-1].word in DEVICE_WORDS and (name[-1].word not in DEVICE_KINDS or name[-1].word == more[-1].word)
    ) or (len(name) > 1 and name[-1].word == "switch" and name[-1].first == name[-2].first):
        name.pop()
    name += [token for token in more if not name or token.word != name[-1].word]


def complete(name: Line) -> Line:
    """A name that ends in a device's word."""
    if name[-1].word in DEVICE_WORDS:
        return name
    return name + put(DEFAULT_DEVICE.get(name[-1].word, "switch" if name[-1].word == "pilot" else "device"), name[-1])
