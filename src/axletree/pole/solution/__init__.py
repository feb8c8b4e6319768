"""What is known about the axis, by which fit, with which doubts?"""
