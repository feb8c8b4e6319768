"""How are a stop, the order and what got no stop told?

Modules:
  text  In which sentences are the stops told, their order, and what got no stop?
"""
