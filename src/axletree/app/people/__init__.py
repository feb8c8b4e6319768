"""Who is here, who leads, and how does somebody come in?"""
