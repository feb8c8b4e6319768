"""How is following told?"""
