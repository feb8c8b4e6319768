"""How is the axis error told?"""
