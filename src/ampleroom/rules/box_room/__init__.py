"""Box room: the volume there is. One file a kind of part."""
