"""What tips, swings or can be pushed over, and what helps?"""
