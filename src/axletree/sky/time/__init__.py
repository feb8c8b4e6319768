"""Which moment and which night are meant, and how is the Earth turned then?"""
