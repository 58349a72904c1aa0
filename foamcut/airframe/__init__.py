"""Generators: from the few numbers of a sketch to flat parts with their places on the model."""
