"""How is 'good enough' told?"""
