"""Pages of shops: what is owned, and what is known of it."""
