"""The people: productions, drafts, notes and decisions, as one Django app."""
