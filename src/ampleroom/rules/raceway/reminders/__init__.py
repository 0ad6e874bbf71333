"""What no count of a raceway can see: how it is bent, held and closed. To be looked at on the spot."""
