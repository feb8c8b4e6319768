"""Which leg, how much, and what does a leftover tilt do?"""
