"""Starting coordinates from nothing but readings, right even where one of them is badly wrong.

``rigidity`` says what the readings can hold still at all, ``intersection`` places point after point, ``robust`` settles
on what most readings agree about, ``start`` chooses the best placing, ``mirror`` decides between it and its images.
"""
