"""Which place in the yard is the best for the tripod?"""
