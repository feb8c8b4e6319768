"""How do the handbook's pages read on a screen?

Modules:
  pages  How do the handbook's pages read on a screen? Markdown from `docs/`, rendered to plain
         HTML.
"""
