"""With which file does a person begin, and what does each of its keys ask?"""
