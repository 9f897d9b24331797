"""Bodices and tops: their blocks, what is drawn from them, and how they are sewn."""
