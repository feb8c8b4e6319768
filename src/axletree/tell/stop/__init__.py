"""How are a stop, the order and what got no stop told?

Modules:
  circles_text  In which words are the readings of the setting circles told, as the person's are
                marked?
  text          In which sentences are the stops told, their order, and what got no stop?
"""
