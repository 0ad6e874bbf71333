"""How much of anything the page takes: one place for the server, the engine and the document of the API."""

from __future__ import annotations

LARGEST_SHEET = 4_000_000
"""Characters of a sheet the page works on; larger ones are for the command line."""
USUAL_SHEET = 60_000
"""Characters of a sheet of some 400 boxes: as read, about 1 MB of memory."""
LARGEST_STOCK = 1_000_000
"""Characters of a stock file the server keeps."""
LARGEST_NUMBER = 2**53 - 1
"""The largest whole number that JavaScript counts exactly."""
