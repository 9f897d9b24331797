"""What a size range is worth: its chart checked, the real bodies it fits, how the pieces grade."""
