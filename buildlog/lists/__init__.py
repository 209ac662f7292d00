"""Parts lists in and out: files read into rows, rows held against the build, the build written as a list."""
