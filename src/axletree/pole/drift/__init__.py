"""How far is the axis off, from the drift of stars?"""
