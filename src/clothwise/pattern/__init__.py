"""What a pattern is: pieces with named edges, the seam graph over them, marks and measurements.

Nothing here knows a garment.
"""
