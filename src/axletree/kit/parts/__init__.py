"""What does a kit consist of, and what stands in for values that are not given?"""
