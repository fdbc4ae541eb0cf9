"""How music is written: note values, rests, beams, tuplets and voices, chosen from strokes; no engraver."""
