"""How is the best place for the tripod told?"""
