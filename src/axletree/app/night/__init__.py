"""What has happened to the evening while the app runs?"""
