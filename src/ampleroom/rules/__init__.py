"""The rules: one folder each, named for what it weighs.

A rule's code is its folder's ``__init__.py``: a module of its own beside it would cost every cold check one more file.
What judges a kind of subject imports the rules of that kind and no others; ``all_rules`` has those of every kind.
"""
