"""What do the pages of the night ask, and who answers?"""
