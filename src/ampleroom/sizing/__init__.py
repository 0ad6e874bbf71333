"""The smallest thing that will do: a raceway for what lies in it."""
