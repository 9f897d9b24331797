"""The app: rooms in the browser, served to this computer only; nothing is computed here."""
