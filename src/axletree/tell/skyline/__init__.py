"""How is it told what was taken for granted of a skyline?

Modules:
  text  In which sentences is it told what was taken for granted of a skyline?
"""
