"""The order: what is asked for and of whom, how likely it is to fit, and what the pour changed.

``order`` makes it from survey and layout alone, ``advice`` weighs placing it now against one more reading and against
waiting (``fit_probability``), ``placed`` is what the job says went out, and ``difference`` holds that against what was
built: made-to-measure parts in ``compare``, what is cut from stock in ``compare_stock``. ``retaped`` is the order as it
would be without the contradicted readings. All of them give back what stands in ``result``.
"""
