"""Drawings, and the files made of them."""
