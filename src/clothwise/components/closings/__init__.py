"""What closes an opening: buttons, bands, hooks, zips, lacing, ties of a wrap front."""
