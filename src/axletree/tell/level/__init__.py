"""How is levelling told?"""
