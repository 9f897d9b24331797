"""Facings: of necks, armholes and the edges of openings."""
