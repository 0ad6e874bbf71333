"""Compressed copies that lie beside the files of the offline folder, and which of them a browser may be sent."""

from __future__ import annotations

from pathlib import Path

COMPRESSED = {"br": ".br", "gzip": ".gz"}
"""Content codings by the name HTTP gives them (RFC 9110, section 8.4.1), the smaller first, and how a copy's name
ends."""


def copy_to_send(path: Path, accepted: str) -> tuple[Path, str]:
    """The file to send in place of one, and its content coding; the file itself and an empty coding where no copy may
    be sent.

    ``accepted`` is the header ``Accept-Encoding`` (RFC 9110, section 12.5.3), empty if there is none.
    """
    allowed = {}
    for each in accepted.lower().replace(" ", "").split(","):
        coding, _, weight = each.partition(";q=")
        allowed[coding] = not weight or weight.strip("0.") != ""
    for coding, end in COMPRESSED.items():
        copy = path.with_name(path.name + end)
        if allowed.get(coding) and copy.is_file():
            return copy, coding
    return path, ""
