"""How far is the axis off, from camera frames?"""
