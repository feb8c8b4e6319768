"""Which way is the elevated pole, by every method that works here and now?"""
