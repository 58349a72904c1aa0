"""Laying pieces on boards: stock, bound, search, and a verifier that shares no code with the search.

`lay_all` and `lay` (search), `verify` (verifier) and the values in `values` are what other rooms use.
"""

#: whole layouts tried for one stock, chosen by tests/benchmarks/nesting.py
STEPS = 2000
