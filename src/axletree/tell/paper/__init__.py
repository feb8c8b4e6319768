"""How is the run sheet printed?"""
