"""A square code for a label, drawn by a library; where that is not installed, no code and only the words."""

from __future__ import annotations


def qr_svg(text: str) -> str:
    """The code as SVG, or an empty text."""
    try:
        import segno
    except ImportError:
        return ""
    from io import BytesIO

    out = BytesIO()
    segno.make(text, error="m", micro=False).save(out, kind="svg", xmldecl=False, svgns=True, border=2, scale=2)
    return out.getvalue().decode("utf-8")
