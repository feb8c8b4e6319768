"""In which order are the objects shown?"""
