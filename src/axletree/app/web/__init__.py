"""How do pages and answers reach the browser, and what may come in?"""
