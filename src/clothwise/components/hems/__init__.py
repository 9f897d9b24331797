"""Lower edges: hems, turned, faced and bound, ruffles, and lines for shorter lengths."""
