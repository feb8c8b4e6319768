"""Which place on the Earth does a person mean, by name or in figures?"""
