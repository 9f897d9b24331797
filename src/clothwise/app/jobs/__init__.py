"""The jobs of the rooms: light to import, each loads what it needs when it runs in a worker."""
