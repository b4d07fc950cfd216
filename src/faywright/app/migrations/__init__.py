"""Steps from each version of the tables to the next, made by Django and run on first use."""
