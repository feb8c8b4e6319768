"""What does the air do to light: how far is it bent, how much is lost, how bright does it glow?"""
