"""Where do very many objects stand through a whole night or year, quickly?"""
