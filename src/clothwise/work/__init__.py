"""Work: the order of work, its steps in words and pictures, and what to buy beside cloth."""
