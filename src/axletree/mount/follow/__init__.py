"""Which knob, which way, how fast; which rate; how long is an object held?"""
