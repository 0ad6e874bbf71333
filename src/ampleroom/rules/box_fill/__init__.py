"""Box fill: what everything in a box takes of its room. One file a kind of thing."""
