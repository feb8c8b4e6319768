"""How is the room of both tube sides told?"""
