"""The JSON API: the same actions as the pages, one small module a noun."""
