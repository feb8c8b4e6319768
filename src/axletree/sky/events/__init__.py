"""When does something in the sky happen: rise, set, culmination, twilight, phase?"""
