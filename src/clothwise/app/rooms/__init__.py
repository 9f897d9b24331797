"""The rooms of the app: each module has its `ROUTES`, `app/routes.py` joins them."""
