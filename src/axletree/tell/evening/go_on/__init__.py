"""How is the rest of an evening told, when it goes on differently?"""
