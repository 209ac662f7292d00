"""What can be worked out, and the records of it."""
