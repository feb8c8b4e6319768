"""How high do obstacles stand around a place, in every direction?"""
