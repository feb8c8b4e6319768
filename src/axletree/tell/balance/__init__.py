"""How are balance and tipping told?"""
