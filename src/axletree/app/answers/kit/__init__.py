"""What does the kit's page ask, and who answers?"""
