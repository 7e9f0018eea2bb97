"""Notes as files: taken away in the forms that others read, and brought in again."""
