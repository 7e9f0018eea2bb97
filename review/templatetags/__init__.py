"""What templates need to write figures down."""
