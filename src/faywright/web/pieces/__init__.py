"""Pages of pieces: their list, parts, boards, year, history and files."""
