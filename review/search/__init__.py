"""Finding words in everything that was said and written in a production."""
