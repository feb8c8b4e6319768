"""What do the pages about the house itself ask: people, handbook, is it there?"""
