"""How is the list of objects told?"""
