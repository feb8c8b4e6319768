"""Which commands write, check and measure for a kit, and find a place?"""
