"""What is shown, and on which night?

best_nights  BestNightsRequest, BestNightsAnswer, best_nights: when an object is best
calendar     CalendarRequest, CalendarAnswer, calendar: which night
objects      ObjectsRequest, ObjectsAnswer, objects: what shows, and why
"""
