"""Form of the tracks: straight, parallel, square and to gauge, each with its uncertainty, and what puts them right.

Before the pour it is that of the water's edges which tracks under the coping follow (``shell``), after it that of the
channels as measured (``built``); ``tracks`` puts either together. ``zones`` has the minimum zones of ISO 1101,
``correction`` the least moving that brings tracks back within their limits, ``effects`` what that does to parts.
"""
