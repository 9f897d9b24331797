"""Small parts that are sewn on or caught in a seam: belts, loops, tabs, ties."""
