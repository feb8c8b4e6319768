"""How does the whole evening become one file for a phone without a signal?"""
