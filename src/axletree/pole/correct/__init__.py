"""Which bolt, which way, how many turns, and what then?"""
