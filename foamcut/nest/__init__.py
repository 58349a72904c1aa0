"""Laying pieces on boards: stock, bound, search, and a verifier that shares no code with the search."""
