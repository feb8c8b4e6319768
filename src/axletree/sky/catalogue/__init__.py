"""Which objects are there, and what are they called?"""
