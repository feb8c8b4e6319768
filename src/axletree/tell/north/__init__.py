"""How is the way to true north told?"""
