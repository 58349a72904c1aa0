"""The build book as values: chapters of words, tables, pictures and steps, for any writer."""
