"""The pages and the JSON API: the same plan, at the bench and at the machine."""
