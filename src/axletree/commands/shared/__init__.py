"""What do the commands share: options, answers, the kit, help, progress?"""
