"""Django's wiring: settings, addresses, the server's way in. No logic."""
