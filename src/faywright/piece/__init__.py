"""The piece: its documents, the plan that runs the whole chain, and what is said of it."""
