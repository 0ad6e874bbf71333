"""Names that a careless program would obey: every part that draws, sets pages or writes tables must show them as
text.
"""

HOSTILE = {
    "markup": "<script>alert(1)</script>",
    "end of picture": "</svg><svg onload=alert(1)>",
    "entity": "&lt;b&gt; &amp; &#x3c;",
    "end of data": "]]><!--",
    "quotes": "\"'`\" onclick='x'",
    "formula": '=HYPERLINK("http://x.example","y")',
    "plus": "+1+1",
    "minus": "-2+3",
    "at": "@SUM(A1)",
    "typst code": '#import "x.typ": * $x$ *b* _i_ @ref <l> #read("data.json")',
    "drawing code": "%%c \\P {\\fArial;x}",
    "right to left": "\u202eevil\u202c \u05d0\u05d1\u05d2 \u0627\u0628",
    "emoji": "\U0001f525 kiln \U0001f9d1\u200d\U0001f527",
    "control": "a\x00b\x07c\x1b[31md\x7fe\u2028f",
    "combining": "Z\u0351\u036b\u0343a\u0300\u0301\u0302\u0303",
    "wide": "\u6f22\u5b57\u304b\u306a",
    "path": "../../etc/passwd",
    "long": "A" * 300,
    "long words": "kiln " * 80,
}
"""By what is hostile about them."""
