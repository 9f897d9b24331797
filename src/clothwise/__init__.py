"""Clothwise: one description of a garment, everything else derived and checked."""

__version__ = "0.1.0"
