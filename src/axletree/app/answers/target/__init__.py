"""What do the pages about one object ask, and who answers?"""
