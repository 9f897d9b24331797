"""Jobs behind the board."""
