"""How far is the axis off, and how true is the mount, from its own circles?"""
