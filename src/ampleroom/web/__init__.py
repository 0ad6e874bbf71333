"""The page: one set of pages, answered by a local server or by the same Python in the browser."""
