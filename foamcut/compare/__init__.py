"""Two versions of a design held against each other, and packs read back."""
