"""How is told which places have a name?"""
