"""What Faywright promises, measured: speed beside named peers, and fits in a virtual workshop."""
