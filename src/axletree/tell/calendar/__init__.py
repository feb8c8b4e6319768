"""How is the choice of a night told?"""
