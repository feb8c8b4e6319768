"""Where do weights and tube go so that neither axis turns by itself?"""
