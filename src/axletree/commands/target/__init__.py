"""Which commands lead to one object: where it stands, which side, how it is followed?"""
