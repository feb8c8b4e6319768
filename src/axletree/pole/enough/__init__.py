"""How good must the axis be, and which way of setting it is good enough?"""
