"""How is told what every telescope of an event shows?"""
