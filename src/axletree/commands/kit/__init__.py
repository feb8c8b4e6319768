"""Which commands write and check a kit, and find a place?"""
