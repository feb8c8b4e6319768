"""How is told where an object stands?"""
