"""What does each telescope of one event show, and when?"""
