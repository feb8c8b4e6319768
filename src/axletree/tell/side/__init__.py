"""How is one tube side told: its room's end, its cautions, why it is the better one?

Modules:
  text  In which sentences is a tube side told: what ends its room, what to beware of, why it is
        better?
"""
