"""Collars, and the sewn neckline that they are drawn along."""
