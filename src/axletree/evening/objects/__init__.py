"""Which objects are there to choose from, and which are worth a stop?"""
