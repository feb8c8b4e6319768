"""How is the run sheet told: in a terminal, as a drawing, in a calendar?"""
