"""How do the handbook's pages read on a screen?"""
