"""Laying pieces on boards: stock, bound, search, and a verifier that shares no code with the search.

`lay` (search), `verify` (verifier) and the values in `values` are what other rooms use.
"""
