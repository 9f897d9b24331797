"""Sleeves, set in or fastened on: caps, shapes, cuffs, and what holds them."""
