"""Flat sheet: outlines with their circles, parts, marks, slots, and the ways to cut a part."""
