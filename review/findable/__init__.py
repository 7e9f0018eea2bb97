"""What can be found by its words: the index of the script's lines, of notes and of replies, in either database."""
