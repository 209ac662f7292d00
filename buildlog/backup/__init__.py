"""Backups: one sealed archive of the database and all files, proved by restoring it."""
