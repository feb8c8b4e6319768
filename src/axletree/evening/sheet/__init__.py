"""How does one kit and one date become the whole evening, and how does it go on?"""
