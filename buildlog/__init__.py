"""The site: one Django app and the project. Importing this package needs no Django."""
