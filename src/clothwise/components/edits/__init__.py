"""Edits: what a designer changes in what the components drafted, made anew at every size."""
