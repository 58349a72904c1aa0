"""Drawings as values: strokes with a layer, texts, a frame.  Nothing here knows a file format."""
