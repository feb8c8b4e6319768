"""Where does each pixel of a frame look, by the frame's own header?"""
