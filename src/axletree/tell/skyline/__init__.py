"""How is it told what was taken for granted of a skyline?"""
