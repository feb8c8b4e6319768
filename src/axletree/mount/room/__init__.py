"""How long can an object be followed on each tube side, and which side is better?"""
