"""Rod readings: heights by least squares, the planes through them, and what they say about coping and floor."""
