"""Box volume: what a box and its rings hold, less what stands in it."""

from ampleroom.rules.box.volume import barriers, clamp_assembly, marked, parts, standard

IN_ORDER = (standard, marked, parts, barriers, clamp_assembly)
"""The rules in the order a worksheet shows them. A new one is a folder here and a name in this list."""
