"""From when to when can an object be shown, and what do the hands need at its stop?"""
