"""Metal wireways and auxiliary gutters: their fill, many conductors, splices, bending space and entries."""
