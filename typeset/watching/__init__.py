"""Watching: a book's pages in a browser while it is being written, on this machine alone."""
