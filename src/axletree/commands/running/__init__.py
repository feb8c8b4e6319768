"""Which commands run beside the work: the local app, the shell's completion?"""
