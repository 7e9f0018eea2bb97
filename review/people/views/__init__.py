"""The screens of the people, a module each."""
