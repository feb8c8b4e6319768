"""How dark does this night get, and when does each stage of setting up begin?"""
