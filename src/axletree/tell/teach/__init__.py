"""How is it shown why one axis undoes the Earth's turn?"""
