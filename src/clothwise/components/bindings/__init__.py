"""Edges bound with bias strips, and the strips and tapes themselves."""
