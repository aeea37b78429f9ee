"""The network of readings and its least-squares adjustment: what a reading and a point are worth.

A ``Network`` holds the rows (one a reading, two for an offset with its station or a coordinate pair), ``observe`` what
each should read at given coordinates, ``least_squares`` the coordinates that fit best, with the covariance, redundancy
and standardised residual of everything.
"""
