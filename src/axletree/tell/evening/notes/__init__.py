"""What has to be kept in mind, noted and known to be assumed all evening?"""
