"""How well does an object show, through which eyepiece, under this sky?"""
