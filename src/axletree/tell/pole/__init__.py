"""How is the way to the pole told?"""
