"""What do the pages of setting up ask, and who answers?"""
