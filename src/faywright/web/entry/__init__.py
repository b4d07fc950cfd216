"""Who may come to the pages, and how they are served."""
