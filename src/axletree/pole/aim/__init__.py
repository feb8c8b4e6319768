"""Where must the polar axis point, and where does the pole star stand about it?"""
