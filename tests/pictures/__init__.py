"""Pictures to look at while testing; nothing of the program uses them."""
