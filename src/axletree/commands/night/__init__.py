"""Which commands plan and record: an evening, its objects, the year, the log?"""
