"""Where does each object stand, for this observer, at each instant?"""
