"""How is a kit drawn?"""
