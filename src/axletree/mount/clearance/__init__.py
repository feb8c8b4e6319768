"""What comes nearest to what, in a pose and on the way to it?"""
