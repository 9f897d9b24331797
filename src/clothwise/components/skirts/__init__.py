"""Skirts, and what holds them at the waist: bands, casings, facings."""
