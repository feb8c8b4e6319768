"""How are both tube sides of one object told?"""
