"""Pockets: what they have in common, and one module for each kind."""
