"""What do all tellings share: words for figures, paragraphs, the sheet that is drawn on, files?"""
