"""Which night of a year is worth most, for an object or for the audience?"""
