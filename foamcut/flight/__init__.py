"""Weight, balance, stability, power and strength of an airframe, as numbers with sources and advice.

Masses are g and places mm in model axes (x aft from the nose, y to the right wing, z up), as in the design;
all that has to do with air, power or strength is SI, as the last word of each name says.  Nothing here
prints, reads a file or knows a key's spelling in a design beyond what its values carry.
"""
