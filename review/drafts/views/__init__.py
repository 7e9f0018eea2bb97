"""The screens of the drafts, a module each."""
