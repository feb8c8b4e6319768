"""Which commands set the mount up: from the spot to the check of its axis?"""
