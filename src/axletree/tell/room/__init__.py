"""How is the room of both tube sides told?

Modules:
  drawing  Where can each tube side follow, and for how long?
  text     How is the room of both tube sides told, without a drawing?
"""
